"""The parts of the screen round the view: head, side, foot, at the widths where something must give."""

from itertools import pairwise
from typing import Any

import pytest

from bikes import COGS, bike
from cogwright.core.study import Study, study
from cogwright.present.cursor import Cursor
from cogwright.present.lines import Line, Look, Page, Span, plain, width
from cogwright.present.panels.findings import findings, findings_lines
from cogwright.present.panels.foot import summary_line
from cogwright.present.panels.head import FIT, VIEWS, Stand, head_lines
from cogwright.present.panels.screen import body_of, filled, side_lines
from support import make


def stand(view: int = 1, unsaved: bool = False) -> Stand:
    return Stand("a.toml", unsaved, "as it came in", Cursor("cog", 34), view)


def side(of: Study, view: int = 1, more: tuple[Line, ...] = ()) -> str:
    """What stands beside the view on a wide screen, as running text."""
    page = Page((), ())
    fit_beside = view != FIT and filled(page, more, 50) is page
    rows = side_lines(of, 50, Look(120, 60), fit_beside)
    return " ".join(plain(row).rpartition("\u254e")[2].strip() for row in rows)


@pytest.mark.parametrize("cells", [40, 60, 72, 80, 120])
def test_unsaved_work_is_said_whole_however_long_the_name(cells: int) -> None:
    long = study(bike().model_copy(update={"name": "Yard 1 tourer, " * 12}))
    title = plain(head_lines(long, stand(unsaved=True), Look(cells))[0])
    assert " * unsaved" in title
    assert ".." in title, "both its ends are there"
    assert ("40-622, 2.205 m by tyre size" in title) is (cells >= 72)


def test_every_view_has_its_number_in_forty_columns() -> None:
    for view in range(1, len(VIEWS) + 1):
        row = plain(head_lines(study(bike()), stand(view), Look(40))[-1])
        assert "~" not in row
        assert all(str(number) in row for number in range(1, len(VIEWS) + 1))


def test_lost_range_at_both_ends_is_said_whole_in_forty_columns() -> None:
    less = study(bike((34,), (12, 13, 15, 17, 19, 21, 23, 25, 28), rear={"carriers": None}), bike())
    row = summary_line(less, Look(40))
    # 34x28 against 34x34 is 34/28 = 21.4 % harder; 34x12 against 46x11 is 1 - 34*11/(12*46) = 32.2 % less.
    assert plain(row).split("   ") == [" low 21.4 % harder", "high 32.2 % lower"]
    assert width(row) <= 40


def test_a_short_chain_and_what_is_lost_are_said_whole_in_forty_columns() -> None:
    """34x45 with the chain for 34x34; 40x11 against 46x11 is 1 - 40/46 = 13.0 % less."""
    of = study(bike((40,), (*COGS[:-1], 48), rear={"carriers": None}), bike())
    row = summary_line(of, Look(40))
    assert plain(row).split("   ") == [" low: chain short", "high 13.0 % lower"]
    assert width(row) <= 40


def test_the_side_says_problems_and_cautions_of_the_fit_in_words() -> None:
    of = study(bike(chain={"links": 108}, shifters={"family": None}))
    said = side(of)
    assert "! Chain length: this chain is 4 links short" in said
    assert "! Chain angle: avoid 46x34 and 34x11" in said
    assert "? Not checked: spacing family (facts missing, see 3 Fit)." in said
    assert said.index("Lowest 34x34") < said.index("Chain length") < said.index("Chain angle")


@pytest.mark.parametrize(("view", "more"), [(3, ()), (1, ((),) * 40)])
def test_the_side_leaves_out_what_the_fit_beside_it_says(view: int, more: tuple[Line, ...]) -> None:
    assert "Chain length" not in side(study(bike(chain={"links": 108})), view, more)


LIMITED: dict[str, Any] = {"limits": {"rollout_m": 7.83}}


def test_the_race_limit_in_words_is_the_scrutiny_s() -> None:
    # 23-622 is pi * 668 mm = 2.0986 m: 52x11 goes 9.92 m, 52x14 7.795 m (within 1 % of 7.83), 52x15 7.275 m.
    nominal = study(make((52,), (11, 14, 15), size="23-622", **LIMITED))
    assert [f.say for f in findings(nominal)][:3] == [
        "Over the race limit of 7.83 m, to be blocked: 52x11.",
        "Within 1 % of the race limit of 7.83 m by tyre size alone, too close to call: 52x14. "
        "Measure the rollout on the floor, put it into the setup.",
        "Largest legal gear: 52x15, 7.28 m.",
    ]
    none = study(make((60,), (11,), rollout_mm=2100, **LIMITED))
    assert "No gear is legal." in [f.say for f in findings(none)]
    fine = study(make((40,), (15,), rollout_mm=2100, **LIMITED))
    assert findings(fine)[0].say == "Every gear is inside the race limit of 7.83 m."


def test_words_name_rings_and_do_not_repeat_a_gear_that_stayed() -> None:
    wide = bike((34, 46), (11, 17, 34), rear={"carriers": None})
    said = [f.say for f in findings(study(wide, wide))]
    assert "Lowest gear as before: 2.21 m (34x34)." in said
    assert any(
        text.startswith("Jump from cog 34 to 17 on rings 34 and 46: 100.0 %, limit 15 %.") for text in said
    )
    assert plain(findings_lines(study(wide), Look(40))[0]) == "What this means"


@pytest.mark.parametrize("height", [8, 12, 24])
def test_on_a_low_screen_the_head_of_a_page_scrolls_with_it(height: int) -> None:
    """Every row can be reached, and at least three rows scroll where there is room for them."""
    page = Page(
        tuple(((Span(f"head {i}"),)) for i in range(5)), tuple((Span(f"row {i}"),) for i in range(30))
    )
    seen, top, last = set[str](), 0, 1
    while top <= last:
        shown = body_of(page, height, top)
        assert len(shown.seen) == height
        seen |= {plain(row) for row in shown.seen}
        last, top = shown.last_top, top + 1
    assert seen >= {f"row {i}" for i in range(30)}
    assert shown.room >= 3


def test_a_single_speed_has_one_gear() -> None:
    assert "1 gear, 1 distinct" in plain(head_lines(study(make((44,), (18,))), stand(), Look(80))[2])


def test_a_sentence_that_goes_on_elsewhere_says_so() -> None:
    of = study(bike((34,), (12, 13, 15, 17, 19, 21, 23, 25, 28), rear={"carriers": None}), bike())
    panels = [side_lines(of, room, Look(120, 60), fit=True) for room in range(12, 40)]
    ends = [[plain(row).rpartition("\u254e")[2][1:] for row in panel] for panel in panels]
    cut = [rows for rows in ends if "more in 7 Findings" in rows[-1]]
    for shorter, longer in pairwise(cut):
        hidden = longer[len(shorter) - 1]
        assert ("..." in shorter[-1]) is hidden.startswith("  "), hidden
    assert any(row.startswith("  ... more") for panel in ends for row in panel)
    assert any(row.startswith("more in 7") for panel in ends for row in panel)
