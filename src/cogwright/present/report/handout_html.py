"""The hand-out as one HTML file: no network, no script, every text escaped, one printed page."""

from collections.abc import Iterator
from html import escape
from typing import Final

from cogwright.core.common.safe_text import clean
from cogwright.present.picture.small import small_picture
from cogwright.present.report.handout import Handout, Passage

_STYLE: Final = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 46rem; color: #24292c; background: #fff;
  font: 1rem/1.4 "Liberation Sans", Arial, Helvetica, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.4rem; line-height: 1.2; margin: 0 0 .3rem; }
h2 { font-size: 1.02rem; margin: .9rem 0 .2rem; border-bottom: 1px solid #b8b5aa; }
p { margin: .2rem 0; }
ul { margin: .2rem 0; padding-left: 1.2rem; }
.under { color: #4c5458; font-size: .9rem; }
.warn { border: 2px solid #943000; padding: .3rem .5rem; font-weight: bold; }
svg { display: block; width: 100%; max-width: 26rem; height: auto; margin: .5rem auto; }
section { display: flow-root; }
table { border-collapse: collapse; width: 100%; }
td { padding: .1rem 0; vertical-align: top; }
td + td { text-align: right; white-space: nowrap; padding-left: 1rem; }
tr.sum td { border-top: 1px solid #24292c; font-weight: bold; }
.sign { display: flex; gap: 1.5rem; margin-top: 2rem; font-size: .9rem; }
.sign span { flex: 2; border-top: 1px solid #24292c; padding-top: .15rem; }
.sign span + span { flex: 1; }
@media print, (min-width: 44rem) { svg { float: right; width: 22rem; margin: .2rem 0 .5rem 1rem; } }
@page { size: auto; margin: 9mm 14mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 9pt; line-height: 1.24; }
  h1 { font-size: 14pt; } h2 { font-size: 10pt; margin: 4pt 0 1pt; break-after: avoid; }
  .under { font-size: 8.4pt; } .sign { margin-top: 17pt; }
  svg { width: 76mm; max-height: 118mm; margin: 1mm 0 2mm 5mm; }
  section, .sign { break-inside: avoid; }
}
"""
_POLICY: Final = "default-src 'none'; style-src 'unsafe-inline'"


def handout_html(of: Handout) -> str:
    """The whole file."""
    return "\n".join(_rows(of)) + "\n"


def _rows(of: Handout) -> Iterator[str]:
    title = _text(of.title)
    yield '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">'
    yield f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield f"<title>{title}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>"
    yield '<p class="under">' + "<br>\n".join(map(_text, (*of.under, *of.used))) + "</p>"
    for number, part in enumerate(of.parts):
        yield from _section(part)
        if number == 0:
            yield small_picture(of.study)
    yield f"<p>{_text(of.end)}</p>"
    yield '<div class="sign"><span>Agreed</span><span>Date</span></div>\n</body>\n</html>'


def _section(part: Passage) -> Iterator[str]:
    yield f"<section>\n<h2>{_text(part.title)}</h2>"
    yield from (f'<p class="warn">{_text(said)}</p>' for said in part.warn)
    if part.amounts:
        yield "<table>"
        for amount in part.amounts:
            kind = ' class="sum"' if amount.sum else ""
            yield f"<tr{kind}><td>{_text(amount.what)}</td><td>{_text(amount.amount)}</td></tr>"
        yield "</table>"
    if part.said:
        yield "<ul>" + "\n".join(f"<li>{_text(said)}</li>" for said in part.said) + "</ul>"
    yield "</section>"


def _text(said: str) -> str:
    """Text that a browser shows as it stands."""
    return escape(clean(said), quote=True)
