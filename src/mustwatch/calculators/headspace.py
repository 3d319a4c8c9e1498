"""Room above the liquid."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import headspace as trade

from . import shown
from .form import Answer, Calculation, Field


def work(values: Mapping[str, Any]) -> Answer:
    capacity, liquid, abv = values["vessel"], values["liquid"], values["alcohol"]
    share = trade.free_share(capacity, liquid)
    room_l = share * capacity
    moved = trade.movement(capacity, liquid, values["from"], values["to"], abv)
    full_c = trade.full_at_c(capacity, liquid, values["from"], abv)
    oxygen = trade.oxygen_mg_per_l(room_l, liquid, values["from"])
    result = {
        "headspace_l": room_l,
        "free_share": share,
        "liquid_gain_l": moved.liquid_gain_l,
        "gas_out_l": moved.gas_out_l,
        "headspace_after_l": moved.headspace_after_l,
        "overflow_l": moved.overflow_l,
        "full_at_c": full_c,
        "oxygen_mg_per_l": oxygen,
        "so2_used_mg_per_l": trade.sulfite_used_mg_per_l(oxygen),
    }
    gas = f"{shown.litres(abs(moved.gas_out_l))} {'pushed out' if moved.gas_out_l >= 0 else 'drawn in'}"
    lines = (
        ("free space", f"{shown.litres(room_l)}, {100 * share:.0f} % of the vessel"),
        ("from / to", f"{shown.celsius(values['from'])} to {shown.celsius(values['to'])}"),
        ("liquid", f"{'-' if moved.liquid_gain_l < 0 else '+'}{shown.litres(abs(moved.liquid_gain_l))}"),
        ("gas", gas),
        ("brim full at", shown.celsius(full_c) if full_c is not None else "not by 40 °C"),
        ("oxygen if it is air", f"{oxygen:.1f} mg per litre of drink"),
        ("SO2 it can use up", f"up to {shown.mg_per_l(result['so2_used_mg_per_l'])}"),
    )
    return Answer(result, lines, _cautions(values, share, moved, full_c))


def _cautions(values: Mapping[str, Any], share: float, moved: trade.Movement, full_c: float | None) -> tuple[str, ...]:
    cautions = []
    wanted = trade.ROOM_AT_START["fruit" if values["fruit"] is not False else "plain"]
    if values["stage"] == "start" and share < wanted:
        cautions.append(
            f"Too full for a start: leave {wanted:.0%} free, or a wide blow-off tube; a plugged lock bursts."
        )
    if values["stage"] == "ageing" and share > 0.05:
        cautions.append("Much air for ageing: top up with like mead, or take a smaller jug.")
    if moved.overflow_l > 0:
        cautions.append(f"It runs over by {shown.litres(moved.overflow_l)}: leave room, or cool it.")
    if full_c is not None:
        cautions.append("Sealed and brim full, the liquid alone can burst glass: no solid bung without room to grow.")
    if moved.gas_out_l < -0.005:
        cautions.append("Cooling draws air in, and the lock's liquid with it: foil or an S-lock while it cools.")
    cautions.append("By volume only: the shape of the neck is not known, so no depth is given.")
    return tuple(cautions)


CALCULATION = Calculation(
    name="headspace",
    fields=(
        Field("vessel", "volume", "Vessel", "its capacity to the brim or bung"),
        Field("liquid", "volume", "Liquid", "how much is in it"),
        Field("stage", "choice", "Stage", "where the batch stands", "ageing", choices=("start", "ageing")),
        Field("fruit", "flag", "Fruit", "fruit in it (a start wants twice the room)", default="unknown"),
        Field("from", "temperature", "From", "temperature now", default="18C"),
        Field("to", "temperature", "To", "temperature to come", default="25C"),
        Field("alcohol", "alcohol", "Alcohol", "% vol", default="12"),
    ),
    work=work,
    method="liquid by its density at both temperatures, gas by absolute temperature; 4 mg SO2 for 1 mg oxygen",
    source="OIML R 22 and ICUMSA densities; ideal gas law; room at a start common practice",
    range="0 to 40 °C, to 25 % vol; glass as rigid, gas leaving solution not counted",
    example="vessel=5L liquid=4.7L from=15C to=25C",
)
