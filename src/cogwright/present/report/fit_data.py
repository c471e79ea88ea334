"""The fit and the chain as data, for the JSON report. Scripts rely on the keys: add, never rename."""

from cogwright.core.indexing.indexing import Indexing, front_indexing, rear_indexing
from cogwright.core.study import Study
from cogwright.present.report.values import rounded


def fit_json(study: Study) -> list[dict[str, object]]:
    """Every check: its name, ok / caution / problem / unknown, figure, limit, unit, sentence."""
    return [
        {
            "check": check.check,
            "status": check.status.value,
            "figure": rounded(check.figure),
            "limit": rounded(check.limit),
            "unit": check.unit,
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
        "axle": None if axle is None else {"pitches": axle.pitches, "move_mm": rounded(axle.move_mm)},
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
