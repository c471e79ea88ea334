"""For one proposal: why it stands in the list, what it takes, what does not fit and what to mind."""

from collections.abc import Sequence

from cogwright.core.proposing.proposal import Proposal
from cogwright.present.lines import Line, Look, Role, Span, line, plain, spread, width, wrap


def reason_lines(one: Proposal, look: Look) -> list[Line]:
    """Why a proposal stands in the list, what it takes, what does not fit and what to mind."""
    out = _said("", [one.title], Role.TITLE, look)
    out += _said("*", [", ".join(one.marks)] if one.marks else [], Role.KEY, look)
    role = Role.TEXT if one.meets else Role.CAUTION
    out += _said("-", one.reasons, role, look)
    if one.fits:
        out += _said("+", [f"to fit: {'; '.join(one.fits)}{_price(one)}"], Role.TEXT, look)
    out += _said("!", [f"does not fit: {problem}" for problem in one.problems], Role.PROBLEM, look)
    out += _said("!", [f"mind: {caution}" for caution in one.cautions], Role.CAUTION, look)
    return out + _said("?", _to_mind(one), Role.CAUTION, look)


def _price(one: Proposal) -> str:
    """What all parts cost; of what nobody has priced that it is not known."""
    known = sum(part.price for part in one.parts if part.price is not None)
    money = f"{known:.2f} {one.currency}".strip()
    if one.cost is not None:
        return f"; {money} in all"
    return f"; {money}, and what is without a price" if known else "; prices not known"


def _to_mind(one: Proposal) -> list[str]:
    """What to mind, and what could not be checked."""
    names = ", ".join(one.unchecked)
    return [*one.notes, *([f"not checked: {names} (facts missing)"] if names else [])]


def _said(sign: str, sentences: Sequence[str], role: Role, look: Look) -> list[Line]:
    out: list[Line] = []
    for sentence in sentences:
        body = wrap(f"{sign} {sentence}".strip(), look.width - 1, role, "  ")
        out += [line(" ", each) for each in body]
    return out


def brief_lines(one: Proposal, look: Look) -> list[Line]:
    """What decides about a proposal, in the look's height; the last line says how many more there are.

    What does not fit comes first, then the reasons, the parts, and what to mind.
    """
    room = look.height
    bad, mind = ([said.partition(":")[0] for said in found if said] for found in (one.problems, one.cautions))
    said = _said("!", [f"does not fit: {', '.join(bad)} (w says why)"] if bad else [], Role.PROBLEM, look)
    said += _said(
        "!", [f"mind: {', '.join(mind)} (w says why)"] if mind and not bad else [], Role.CAUTION, look
    )
    said += _said("", ["; ".join(one.reasons)], Role.TEXT if one.meets else Role.CAUTION, look)
    said += _said("", [f"to fit: {', '.join(one.fits)}"] if one.fits else [], Role.DIM, look)
    noted = "; ".join(_to_mind(one))
    said += _said("", [noted] if noted else [], Role.CAUTION, look)
    if len(said) <= room:
        return said
    more = line(Span(f"w: {len(said) - room} more ", Role.KEY))
    last = wrap(plain(said[room - 1]).strip(), look.width - width(more) - 2, said[room - 1][-1].role)[0]
    return [*said[: room - 1], spread(line(" ", last), more, look.width)][:room]
