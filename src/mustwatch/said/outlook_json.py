"""An outlook as the command prints it: stable keys, metric, times with their offset."""

from dataclasses import asdict
from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.forecast.outlook import Outlook
from mustwatch.judgement.forecast.sealed import Sealing
from mustwatch.said.outlook import words_of


def to_json(outlook: Outlook, batch: Batch) -> dict[str, Any]:
    """The outlook as a JSON document. Gravities in SG, percentiles of what a good hydrometer would read."""
    verdict = outlook.verdict
    return {
        "batch": outlook.batch,
        "at": outlook.at,
        "state": verdict.state,
        "confirmed": verdict.confirmed,
        "since": verdict.since,
        "now_sg": outlook.now_sg and asdict(outlook.now_sg),
        "final_sg": outlook.final_sg and asdict(outlook.final_sg),
        "done_on": outlook.done_on and asdict(outlook.done_on),
        "course": [asdict(moment) for moment in outlook.course],
        "stall_probability": outlook.stall_probability,
        "decide_on": verdict.decide_on,
        "fall_per_day": _rounded(verdict.fall, 2),
        "fall_error": _rounded(verdict.fall_error, 2),
        "least_end_sg": _rounded(verdict.least_end, 4),
        "points_above_least_end": _rounded(verdict.points_to_go, 1),
        "rest_days": round(verdict.rest.days, 1),
        "rest_needed_days": verdict.needed.days,
        "rest_needed_because": list(verdict.needed.because),
        "may_be_closed": verdict.safe,
        "protected": verdict.proof.protection.holds,
        "not_protected_because": verdict.proof.protection.against or None,
        "may_hold_points": _rounded(verdict.may_hold, 1),
        **_sealed(outlook.sealing),
        "words": list(words_of(outlook, batch)),
        "evidence": list(verdict.evidence),
        "missing": list(verdict.missing),
    }


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits) + 0.0


def _sealed(sealing: Sealing | None) -> dict[str, Any]:
    if sealing is None:
        return {"gas_to_come_volumes": None, "sealed": None, "gas_bar_if_sealed": []}
    names = ("p10", "p50", "p90", "most")
    return {
        "gas_to_come_volumes": {name: round(value, 2) for name, value in zip(names, sealing.volumes, strict=True)},
        "sealed": {
            "since": sealing.sealed_since,
            "vessel": sealing.vessel,
            "rating_bar": round(sealing.rating_bar, 2),
            "at_c": round(sealing.temp_c, 1),
            "at_c_assumed": sealing.temp_assumed,
            "hours_to_rating": {
                "soonest": _rounded(sealing.hours_soonest, 0),
                "likely": _rounded(sealing.hours_likely, 0),
            },
        },
        "gas_bar_if_sealed": [
            {"at": when, "p50": round(likely, 2), "p90": round(high, 2)} for when, likely, high in sealing.bars
        ],
    }
