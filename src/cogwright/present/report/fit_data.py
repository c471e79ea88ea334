"""The fit and the chain as data, for the JSON report. Scripts rely on the keys: add, never rename."""

from typing import Final

from cogwright.core.chain.line import line_before
from cogwright.core.fit.rear import SPLIT
from cogwright.core.indexing.indexing import Indexing, front_indexing, rear_indexing
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.wear_prices import prices_for
from cogwright.core.study import Study
from cogwright.core.wear.costs import Costs, costs_of
from cogwright.core.wear.staying import verdicts
from cogwright.present.report.values import rounded

#: Units under the words that scripts know them by, where the screen has better ones.
_KNOWN: Final = {"links": "pitches", SPLIT: "broken carriers"}


def fit_json(study: Study) -> list[dict[str, object]]:
    """Every check: its name, ok / caution / problem / unknown, figure, limit, unit, sentence."""
    return [
        {
            "check": check.check,
            "status": check.status.value,
            "figure": rounded(check.figure),
            "limit": rounded(check.limit),
            "unit": _KNOWN.get(check.unit, check.unit),
            "say": check.say,
        }
        for check in study.fit
    ]


def chain_json(study: Study) -> dict[str, object]:
    """The chain in pitches: the largest pair's exact need, the length to cut to, installed, every pair."""
    chain, axle = study.chain, study.axle
    return {
        "needed_pitches": rounded(chain.needed_pitches),
        "fit_pitches": chain.fit_pitches,
        "installed": chain.installed,
        "per_gear": [
            {
                "ring": gear.ring,
                "cog": gear.cog,
                "pitches": rounded(gear.pitches),
                "slack": rounded(gear.slack),
                "state": gear.state.value,
            }
            for gear in chain.per_gear
        ],
        "textbook_pitches": rounded(chain.textbook),
        "short_by": chain.short_by,
        "cut_to": chain.cut_to,
        "missing": list(chain.missing),
        "line": _line(study),
        "axle": None if axle is None else {"pitches": axle.pitches, "move_mm": rounded(axle.move_mm)},
    }


def _line(study: Study) -> dict[str, object]:
    """Where rings and cogs stand sideways, mm, and every pair's angle; before is None where nothing moved."""
    now = study.chainline
    before = line_before(now, study.baseline)
    was = {} if before is None else {(a.ring, a.cog): a.degrees for a in before.angles}
    return {
        "rings_mm": rounded(now.front_mm),
        "cogs_mm": rounded(now.rear_mm),
        "per_pair": [
            {
                "ring": a.ring,
                "cog": a.cog,
                "degrees": rounded(a.degrees),
                "before": rounded(was.get((a.ring, a.cog))),
            }
            for a in now.angles
        ],
    }


def indexing_json(study: Study) -> dict[str, object]:
    """Rear and front: where to set the cable, how far each sprocket is off; None where nothing is given."""
    bench = study.bench
    return {"rear": _indexing(rear_indexing(bench)), "front": _indexing(front_indexing(bench))}


def _indexing(of: Indexing) -> dict[str, object] | None:
    if not of.given:
        return None
    clicks = of.clicks
    return {
        "missing": list(of.missing),
        "set_on": clicks.set_on if clicks else None,
        "worst": clicks.worst.teeth if clicks else None,
        "limits_pct": [rounded(limit) for limit in of.limits_pct],
        "per_sprocket": [
            {"teeth": landing.teeth, "off_mm": rounded(landing.off_mm), "off_pct": rounded(landing.off_pct)}
            for landing in (clicks.landings if clicks else ())
        ],
    }


def wear_json(study: Study, stock: Bin | None = None) -> dict[str, object]:
    """What can stay, part by part, and the cost of 1000 km at the setup's and the bin's prices, if known."""
    costs = costs_of(study.bench, prices_for(study.bench, stock))
    return {
        "stretch_pct": rounded(study.bench.wear.stretch_pct),
        "parts": [
            {
                "part": v.part,
                "fate": v.fate.value,
                "figure": rounded(v.figure),
                "limit": rounded(v.limit),
                "say": v.say,
            }
            for v in verdicts(study.bench, study.baseline)
        ],
        "costs": None if costs is None else costs_json(costs),
        "log": [{"date": e.date.isoformat(), "km": rounded(e.km), "what": e.what} for e in study.bench.log],
    }


def costs_json(costs: Costs) -> dict[str, object]:
    """Both ways to wear parts out: how many of each in 1000 km, and what they cost."""
    return {
        "rate_pct_in_1000_km": rounded(costs.rate_pct),
        "ways": [
            {
                "way": way.name,
                "chains": rounded(way.chains),
                "cassettes": rounded(way.cassettes),
                "ring_sets": rounded(way.rings),
                "cost": rounded(way.cost),
            }
            for way in (costs.early, costs.run_out)
        ],
        "currency": costs.prices.currency or None,
        "assumptions": list(costs.assumptions),
    }
