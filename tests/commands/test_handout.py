"""The hand-out: figures of the screen in everyday words, hostile text, one page, the quote with its tax."""

import json
import re
import shutil
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings

from cogwright.core.parts.bin import Tax
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import Look, width
from cogwright.present.picture.small import small_picture
from cogwright.present.report.handout import handout_of
from cogwright.present.report.handout_html import handout_html
from cogwright.present.report.handout_text import handout_lines, handout_markdown
from cogwright.store.documents import to_toml
from strategies import setups
from support import ROOT, called, long_run, make

SETUPS = ROOT / "setups"
TRIAL = "yard-1-second-trial.toml"
COURSE = SETUPS / "courses" / "crook-hause.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The demo's setups, to be changed."""
    shutil.copytree(SETUPS, tmp_path / "yard")
    return tmp_path / "yard"


def words(*args: object) -> str:
    done = called("handout", *map(str, args))
    assert (done.returncode, done.stderr) == (0, "")
    return " ".join(done.stdout.split())


def test_it_says_the_figures_of_report_and_order(folder: Path) -> None:
    """Hills, speeds, steps, course and sums are those that the other commands print for the same files."""
    told = words(folder / TRIAL, "--course", COURSE)
    report = json.loads(called("report", folder / TRIAL, "--course", COURSE, "--format", "json").stdout)
    order = json.loads(called("order", folder / TRIAL, "--format", "json").stdout)
    assert f"you climb up to {report['ride']['steepest_pct']:.1f} %" in told
    assert f"up to {report['ride']['steepest_short_pct']:.1f} %" in told
    assert f"your legs keep up to {report['ride']['spin_out_kmh']:.1f} km/h" in told
    assert f"Your easiest gear is {report['comparison']['low_change_pct']:.1f} % harder" in told
    assert f"it goes {report['gears'][0]['speed_kmh']:.1f} km/h" in told
    assert f"{max(s['step_pct'] for s in report['rear_steps']):.1f} % (before" in told
    assert f"You have {report['summary']['distinct']} different gears" in told
    minutes, seconds = divmod(round(report["course"]["total_s"]), 60)
    assert f"about 0:{minutes:02d}:{seconds:02d} h" in told
    assert f"Parts {order['parts_cost']:.2f} EUR" in told
    assert f"{order['labour_cost']:.2f} EUR To pay {order['to_pay']:.2f} EUR" in told


def test_directions_are_in_words() -> None:
    """36x45 on 28x30's bike is easier and slower; the other way round it is harder and faster."""
    one, two = make([28, 42], [11, 30]), make([36], [11, 45])
    for bench, base, low, top in ((two, one, True, False), (one, two, False, True)):
        parts = {part.title: " ".join(part.said) for part in handout_of(study(bench, base)).parts}
        easier, given_up = parts["What gets easier"], parts["What you give up"]
        assert ("easier" in easier) is low
        assert ("harder: at" in given_up) is not low
        assert ("Fast roads" in easier) is top
        assert ("Fast roads" in given_up) is not top


def test_job_tax_and_what_is_to_pay(folder: Path) -> None:
    """20 % on 356.10 is 71.22, in all 427.32; 20 % in 356.10 is a sixth of it, 59.35."""
    setup, stock = folder / TRIAL, folder / "bins" / "hollin-yard.toml"
    setup.write_text(
        setup.read_text() + '\n[job]\ncustomer = "A. Rider"\nnumber = "26-117"\ndate = 2026-03-12\n'
    )
    plain = json.loads(called("order", setup, "--format", "json").stdout)
    assert (plain["total"], plain["to_pay"], plain["tax"]) == (356.1, 356.1, None)
    stock.write_text(stock.read_text().replace("[labour]", "[tax]\nrate_pct = 20\n\n[labour]", 1))
    order = json.loads(called("order", setup, "--format", "json").stdout)
    assert (order["total"], order["tax"]["amount"], order["to_pay"]) == (356.1, 71.22, 427.32)
    assert order["job"] == {"customer": "A. Rider", "number": "26-117", "date": "2026-03-12"}
    for command in ("order", "handout"):
        told = " ".join(called(command, setup).stdout.split())
        assert "Customer: A. Rider Job: 26-117 Date: 2026-03-12" in told.replace(";", "")
        assert "71.22 EUR" in told
        assert "427.32 EUR" in told
        assert "To pay 427.32 EUR" in told
        assert "Total without tax 356.10 EUR Tax, 20 % 71.22 EUR To pay 427.32 EUR" in told
    ticket = called("order", setup, "--format", "markdown").stdout
    assert "- Total without tax: 356.10 EUR\n- Tax, 20 %: 71.22 EUR\n- To pay: 427.32 EUR\n" in ticket
    stock.write_text(stock.read_text().replace("rate_pct = 20", "rate_pct = 20\nincluded = true", 1))
    order = json.loads(called("order", setup, "--format", "json").stdout)
    assert (order["tax"]["amount"], order["to_pay"]) == (59.35, 356.1)
    assert "Of it tax, 20 % 59.35 EUR To pay 356.10 EUR" in words(setup)


def test_tax_by_fractions() -> None:
    """19 % on 200 is 38; in 238 it is the same 38."""
    assert Tax(rate_pct=19).part_of(200.0) == pytest.approx(38)
    assert Tax(rate_pct=19, included=True).part_of(238.0) == pytest.approx(38)


def test_an_unknown_price_is_said_not_left_out(folder: Path) -> None:
    told = words(folder / TRIAL, "--no-bin")
    assert "To pay not known yet" in told
    assert "No price is known yet for" in told


def test_it_minds_the_bike_with_its_new_parts_on(tmp_path: Path) -> None:
    """A worn chain and cassette go with this change, and nobody is told to mind them; what stays is told."""
    wear = {"chain_pct": 1.2, "cassette_state": "hooked"}
    facts = {"frame": {"chainstay_mm": 435.0}, "chain": {"links": 100}, "wear": wear}
    (tmp_path / "was.toml").write_text(to_toml(make([42], [11, 13, 15, 17, 19, 21], **facts)))
    for name, cogs, told in (
        ("new", [14, 16, 18, 20, 22, 36], False),
        ("kept", [11, 13, 15, 17, 19, 23], True),
    ):
        setup = make([42], cogs, baseline="was.toml", **facts)
        (tmp_path / f"{name}.toml").write_text(to_toml(setup))
        said = words(tmp_path / f"{name}.toml")
        assert ("hooked teeth" in said) is told, name
        assert "worn out, it can jump" not in said, "the chain is a new one in both"


def test_a_gear_is_not_left_out_for_a_chain_that_goes() -> None:
    """The old chain is too short for 36x45; the order cuts a new one, with which the rider goes home."""
    told = words(SETUPS / "yard-1-first-trial.toml")
    assert "Comes off" in told
    assert " chain" in told.split("New: ")[1].split("Comes off")[0]
    assert "click by click from easiest to hardest" in told
    assert "11 gears, click by click" in told, "eleven cogs behind one ring"
    assert "Leave out" not in told
    assert "36x45: only with the new chain on; never with the old one." in told


def test_card_report_and_handout_agree_on_what_wants_the_new_chain() -> None:
    """36x45 is ridden with the order's chain and never with the old one, by all three in the same words."""
    file = SETUPS / "yard-1-first-trial.toml"
    words_of = "36x45: only with the new chain on; never with the old one."
    told, report = words(file), " ".join(called("report", file).stdout.split())
    card = " ".join(called("card", file).stdout.replace("|", " ").split())
    for said in (told, card, report):
        assert said.count(words_of) == 1
        assert "Leave out" not in said
        assert "11 gears" in said
    assert card.index(words_of) < card.index("ring 36: 45 "), "before the order that has the gear in it"
    assert "derailleur or hanger can be torn off on 36x45" in report, "the alarm over it all stays"
    moves = json.loads(called("report", file, "--format", "json").stdout)["shifting"]
    assert [(move["ring"], move["cog"]) for move in moves if move["new_chain_only"]] == [(36, 45)]
    assert len(moves) == 11


def test_without_a_new_chain_on_order_the_gear_stays_left_out(folder: Path) -> None:
    """The same bike with nothing to order: the chain on it is all that there is."""
    alone = (folder / "yard-1-first-trial.toml").read_text().replace("baseline =", "# baseline =", 1)
    (folder / "alone.toml").write_text(alone)
    card = " ".join(called("card", folder / "alone.toml").stdout.replace("|", " ").split())
    report = " ".join(called("report", folder / "alone.toml").stdout.split())
    assert "Leave out 36x45 (the chain is too short for it)" in card
    assert "Leave out 36x45: the chain is too short for it." in report
    for said in (card, report):
        assert "10 gears" in said
        assert "new chain" not in said


def test_hub_torque_wear_and_law_are_on_the_page(tmp_path: Path) -> None:
    rear = {"hub_ratios": [1.0, 1.5], "least_ratio": 2.0}
    motor = {"cutoff_kmh": 25.0}
    for name, cog in (("was", 20), ("now", 22)):
        setup = make([40], [cog], rear=rear, motor=motor, baseline="was.toml" if name == "now" else None)
        (tmp_path / f"{name}.toml").write_text(to_toml(setup))
    said = words(tmp_path / "now.toml")
    assert "hub torque: 40x22 puts more torque into the hub than permitted" in said
    assert "The law of the place wins" in said


def test_without_a_baseline_there_is_nothing_to_hand_out(folder: Path) -> None:
    done = called("handout", folder / "yard-7-pass.toml")
    assert (done.returncode, done.stdout) == (1, "")
    assert "there is no change to tell of" in done.stderr
    assert "--baseline FILE" in done.stderr


class Page(HTMLParser):
    """What a browser would load or run of a page, its text, and whether every element is closed."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.names: list[str] = []
        self.loads: list[str] = []
        self.words = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.names.append(tag)
        self.loads += [
            f"{tag} {name}" for name, _ in attrs if name in {"src", "href", "action"} or name.startswith("on")
        ]

    def handle_data(self, data: str) -> None:
        self.words += data


HOSTILE = "</title><script>alert(1)</script><img src=x onerror=alert(2)> & \"quoted\" 'x' \u202eabc"


def test_hostile_text_is_shown_and_does_nothing(folder: Path) -> None:
    setup = folder / TRIAL
    said = f"customer = {json.dumps(HOSTILE[:60])}\nnote = {json.dumps(HOSTILE[30:])}"
    text = setup.read_text().replace(
        'name = "Yard 1 tourer, second trial with one ring"', f"name = {json.dumps(HOSTILE)}"
    )
    setup.write_text(f"{text}\n[job]\n{said}\n")
    done = called("handout", setup, "--format", "html")
    assert (done.returncode, done.stderr) == (0, "")
    page = Page(done.stdout)
    assert {"script", "img", "link", "iframe", "a", "form"}.isdisjoint(page.names)
    assert page.loads == []
    assert "<script>alert(1)</script>" in page.words
    assert "\u202e" not in done.stdout
    assert "<script>" not in called("handout", setup, "--format", "markdown").stdout.replace("\\<script>", "")


def test_the_page_needs_nothing_from_anywhere() -> None:
    """No address but the name of the SVG standard, nothing to import, and a policy that forbids it."""
    text = called("handout", SETUPS / TRIAL, "--format", "html").stdout
    assert set(re.findall(r"https?://[^\"' )]+", text)) == {"http://www.w3.org/2000/svg"}
    assert "@import" not in text
    assert "url(" not in text
    assert "default-src 'none'" in text
    assert "@page" in text


@pytest.mark.long
@settings(max_examples=long_run(40, 20))
@given(setups, setups)
def test_any_two_bikes_have_a_page(bench: Setup, baseline: Setup) -> None:
    of = handout_of(study(bench, baseline))
    for room in (40, 80):
        assert max(map(width, handout_lines(of, Look(room)))) <= room
    ET.fromstring(small_picture(of.study))
    assert Page(handout_html(of)).loads == []
    assert handout_markdown(of).startswith("# ")


def test_prices_without_labour_have_no_sum(tmp_path: Path) -> None:
    """A bin without a rate cannot say what is to pay, and the page says why."""
    (tmp_path / "bins").mkdir()
    (tmp_path / "bins" / "b.toml").write_text(
        'format = 1\nname = "b"\n[[rings]]\nname = "r"\nteeth = 40\nprice = 10\ncount = 1\n'
    )
    (tmp_path / "was.toml").write_text(to_toml(make([42], [14, 21])))
    (tmp_path / "now.toml").write_text(to_toml(make([40], [14, 21], baseline="was.toml")))
    told = words(tmp_path / "now.toml")
    assert "Parts 10.00 EUR" in told
    assert "To pay not known yet - No rate for labour is known." in told
