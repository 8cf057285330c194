"""Answers made by hand for the sheets: a demonstration job whose every figure is invented."""

from __future__ import annotations

import pytest

from earthfast.stages.answers import (
    AnyFailure,
    AreaBuild,
    AreaChoice,
    AssumptionLine,
    BayLine,
    BuildAnswer,
    CautionLine,
    CheckLine,
    ChooseAnswer,
    ClockLine,
    CornerLine,
    CourseLine,
    Figure,
    FrontPoint,
    InfluenceLine,
    SafetyLine,
    ShoppingLine,
    SourceLine,
    StepLine,
    StratumLine,
    TrailStep,
    WayLine,
)

INVENTED = SourceLine(
    key="earthfast_proposal",
    place="",
    status="I",
    words="invented for demonstration",
    citation="Invented for this demonstration.",
)
PRACTICE = SourceLine(
    key="common_practice",
    place="",
    status="CP",
    words="common practice, no source",
    citation="Common practice.",
)


def figure(key, label, value, unit, low=None, high=None, places=0):
    band = f" ({low:.{places}f} to {high:.{places}f})" if low is not None else ""
    text = f"£{value:.0f}{band}" if unit == "GBP" else f"{value:.{places}f} {unit}".strip() + band
    return Figure(key=key, label=label, value=value, low=low, high=high, unit=unit, text=text)


CHECKS = (
    ("bearing", "Does the ground under the base carry the heaviest load?", "kPa", 26, 95, 0.0004, 0.01),
    ("rutting", "Does the wheel of a loaded barrow sink in?", "mm", 2.1, 10, 0.002, 0.05),
    ("cracking", "Does the treated layer crack through in bending?", "kPa", 61, 240, 0.011, 0.05),
    ("settlement", "Does it tilt as the ground squeezes?", "mm", 3.4, 15, 0.001, 0.05),
    ("frost", "Does frost reach ground that lifts?", "mm", 420, 470, 0.028, 0.1),
    ("softening", "Does the first thaw leave it soft?", "kPa", 38, 81, 0.019, 0.05),
    ("shrink-swell", "Do dry summers move it?", "mm", 6, 15, 0.031, 0.1),
    ("durability", "Does the binder outlast wet and dry, freeze and thaw?", "%", 5.2, 6.0, 0.047, 0.1),
)


def chance_text(chance):
    return f"about 1 in {round(1 / chance)}" if chance > 0.00025 else "less than 1 in 4000"


def checks(area, factor=1.0):
    lines = []
    for name, question, unit, demand, capacity, usual, target in CHECKS:
        chance = min(0.9, usual * factor)
        key = f"{area}.{name}"
        places = 1 if unit == "%" or demand < 10 else 0
        lines.append(
            CheckLine(
                name=name,
                question=question,
                demand=figure(f"{key}.demand", "demand", demand, unit, 0.7 * demand, 1.4 * demand, places),
                capacity=figure(
                    f"{key}.capacity", "capacity", capacity, unit, 0.6 * capacity, 1.5 * capacity, places
                ),
                chance=chance,
                chance_text=chance_text(chance),
                target=target,
                passes=chance <= target,
                governed_by="filled shelving at the back wall" if name == "bearing" else "winter of ten",
                sentence=f"{name.capitalize()}: {chance_text(chance)} over 20 years; "
                f"the target is 1 in {round(1 / target)}.",
                key=key,
            )
        )
    return tuple(lines)


def assumptions():
    rows = (
        ("ground.clay.modulus", "stiffness of the silty clay, wet season", 18, "MPa", 9, 34, 0.31),
        ("mix.strength", "strength of treated soil at 28 days", 1.4, "MPa", 0.7, 2.6, 0.24),
        ("frost.index", "freezing index, coldest winter in ten", 110, "K·day", 60, 190, 0.12),
        ("mix.scatter", "unevenness of spreading by hand", 0.30, "of the dose", 0.18, 0.45, 0.09),
        ("load.shelf", "filled shelving", 4.2, "kN/m²", 2.9, 6.0, 0.06),
        ("ground.water", "deepest wet-season water level", 0.9, "m", 0.6, 1.4, 0.04),
        ("price.cement", "price of a 25 kg bag of cement", 7.8, "GBP", None, None, None),
        ("life", "design life", 20, "years", None, None, None),
    )
    return tuple(
        AssumptionLine(
            figure=figure(key, label, value, unit, low, high, 0 if value > 10 else 2),
            because="not given in the job",
            sources=(PRACTICE if effect else INVENTED,),
            effect=effect,
        )
        for key, label, value, unit, low, high, effect in rows
    )


CAUTIONS = (
    CautionLine(
        code="few-observations",
        text="The silty clay rests on two hand tests and one jar; "
        "a third hole at the far corner would halve its width.",
        where="ground.strata[1]",
        source="earthfast_proposal",
    ),
    CautionLine(
        code="prices-invented", text="All prices are invented for this demonstration.", where="prices"
    ),
)

STRATA = (
    StratumLine(name="topsoil", symbol="OL", top_mm=0, bottom_mm=150),
    StratumLine(name="firm silty clay", symbol="CL-ML", top_mm=150, bottom_mm=900),
    StratumLine(name="stiff clay", symbol="CH", top_mm=900, bottom_mm=2000),
)

STEPS = (
    ("Peg out the corners A to D; check that both diagonals are equal.", ""),
    (
        "Call for buried services and scan the outline before any tool goes in.",
        "no service under the outline, or its line marked",
    ),
    ("Strip the turf and topsoil; stack them clear of the work.", ""),
    (
        "Trim to the dig levels in the table; check each corner with staff or string.",
        "all four corners within 10 mm",
    ),
    ("Till the soil dry to 150 mm, two passes; pick out roots and stones larger than an egg.", ""),
    ("Set one bag in each square of the plan, open, and rake level.", "a spread tray weighed in each bay"),
    (
        "Mix three passes; add the water of the bay with a rose; mix two more.",
        "even colour to full depth in two pin holes",
    ),
    ("Level and compact in two directions until the plate leaves no mark.", ""),
    ("Cover with sheet; keep damp for 7 days; no load on it.", "heel leaves no mark"),
    ("Lay bedding sand and flags to the finished levels; fall 1 in 60.", ""),
)


def bays(count, length, width, kg, columns=None):
    columns = columns or count
    lines = []
    for index in range(count):
        column, row = index % columns, index // columns
        whole, rest = divmod(kg, 25)
        lines.append(
            BayLine(
                bay=str(index + 1),
                x_m=column * length,
                y_m=row * width,
                length_m=length,
                width_m=width,
                area_m2=length * width,
                binder_kg=kg,
                bags=f"{whole:.0f} bags and {rest:.0f} kg of the next",
                spread_mm=1000 * kg / (length * width * 1100),
                spread_kg_per_m2=kg / (length * width),
                grid_mm=1000 * (25 * length * width / kg) ** 0.5,
                water_l=12.0 * length * width,
            )
        )
    return tuple(lines)


def corners(length, width, fall=1 / 60, raised=0.055):
    lines = []
    for name, x, y in (("A", 0, 0), ("B", length, 0), ("C", length, width), ("D", 0, width)):
        finished = raised - fall * y
        lines.append(
            CornerLine(
                corner=name,
                x_m=x,
                y_m=y,
                ground_m=-0.004 * x,
                finished_m=finished,
                formation_m=finished - 0.34,
                dig_mm=1000 * (-0.004 * x - finished + 0.19),
            )
        )
    return tuple(lines)


def area_build(name, length, width, bay_lines, **changes):
    values = {
        "name": name,
        "method": "treat in place with cement",
        "title": "flags on stone on 150 mm of treated soil",
        "outline_m": ((0, 0), (length, 0), (length, width), (0, width)),
        "area_m2": length * width,
        "dug_area_m2": (length + 0.2) * (width + 0.2),
        "courses": (
            CourseLine(material="flags", thickness_mm=50),
            CourseLine(material="bedding sand", thickness_mm=40),
            CourseLine(material="crushed stone", thickness_mm=100),
            CourseLine(material="treated soil", thickness_mm=150, dose_percent=6.0),
        ),
        "strata": STRATA,
        "topsoil_mm": 150,
        "water_mm": 900,
        "frost_mm": 420,
        "checks": checks(name),
        "fall_1_in": 60,
        "fall_direction": "towards the hedge",
        "corners": corners(length, width),
        "mean_dig_mm": 150,
        "dig_volume": figure(f"{name}.dig", "dug", 0.19 * (length + 0.2) * (width + 0.2), "m³", places=1),
        "bays": bay_lines,
        "dose_words": "6 % of dry soil = 15.3 kg/m² on 150 mm = 14 mm of loose cement",
        "water_words": "12 l/m², from a soil 3 % drier than best; squeeze a ball: it holds and snaps",
        "mixing_words": "till to 150 mm; 3 passes dry, 2 wet",
        "compaction_words": "plate of 90 kg, 6 passes in one lift",
        "clock": tuple(
            ClockLine(air_c=c, minutes=m) for c, m in ((5, 180), (10, 140), (15, 110), (20, 85), (25, 65))
        ),
        "steps": tuple(StepLine(number=i, step=s, hold=h) for i, (s, h) in enumerate(STEPS, start=1)),
        "diagonal_m": (length**2 + width**2) ** 0.5,
    }
    return AreaBuild(**(values | changes))


def answer_values(verb, headline):
    return {
        "verb": verb,
        "earthfast": "0.1.0",
        "job": "Fernhill allotments",
        "demonstration": True,
        "headline": headline,
        "cautions": CAUTIONS,
        "assumptions": assumptions(),
        "exit_status": 0,
    }


SHOPPING = (
    ("cement, 25 kg bags", "449 kg", 5, "19 bags", "1 bag and 1 kg over", 148.2),
    ("bedding sand", "1.18 m³", 10, "3 bulk bags of 850 kg", "0.2 m³ over", 144.0),
    ("flags 450 x 450 x 50 mm", "29.4 m²", 5, "153 flags", "0.1 m² over", 611.0),
    ("water", "353 l", 0, "tank of 400 l, or hose", "", None),
    ("tiller, small", "1 day", 0, "1 day", "", 62.0),
    ("plate compactor, 90 kg", "1 day", 0, "1 day", "", 44.0),
    ("sheet to cover", "32 m²", 10, "2 sheets of 4 x 5 m", "", 22.0),
)

SAFETY = (
    (
        "wet cement",
        "Burns skin hours after it is felt. Gloves, goggles, long sleeves; no kneeling in it.",
        "common practice",
    ),
    ("dust", "Open and tip bags low and downwind. Cut flags wet.", "common_practice"),
    ("buried services", "Ask before digging; hand-dig within 500 mm of a marked line.", "common_practice"),
    (
        "trees and walls",
        "Nearer than 3 m to a tree, wall, bank or building: stop and ask a licensed engineer.",
        "common practice",
    ),
    ("tiller and plate", "One person near the machine; boots; ear defenders.", "common_practice"),
    ("lifting", "A bag is 25 kg, a flag 24 kg: two people or a barrow.", "common_practice"),
)


def build_answer(areas=None):
    areas = areas or (
        area_build("tool store base", 4.2, 3.0, bays(2, 2.1, 3.0, 96)),
        area_build("path", 14.0, 1.2, bays(5, 2.8, 1.2, 51), fall_direction="across, to the border"),
    )
    return BuildAnswer(
        **answer_values("build", "Treat 150 mm of the soil with 19 bags of cement; two days for two people."),
        areas=areas,
        shopping=tuple(
            ShoppingLine(
                item=item,
                net=net,
                waste_percent=waste,
                order=order,
                spare=spare,
                price=figure(f"price.{item}", item, price, "GBP") if price else None,
            )
            for item, net, waste, order, spare, price in SHOPPING
        ),
        total=figure("price.total", "total", 1031, "GBP", 960, 1140),
        safety=tuple(SafetyLine(hazard=h, text=t, source=s) for h, t, s in SAFETY),
        date="2031-04-12",
    )


def way(key, method, title, courses, price, carbon, spoil, factor, passes, because):
    lines = checks(key, factor)
    weakest = max(lines, key=lambda line: line.chance / line.target)
    total = sum(course.thickness_mm for course in courses)
    return WayLine(
        key=key,
        method=method,
        title=title,
        courses=courses,
        thickness_mm=total,
        dig_mm=total - 40 if method.startswith("dig") else 150,
        price=figure(f"{key}.price", "price", price, "GBP", 0.88 * price, 1.17 * price),
        carbon=figure(f"{key}.carbon", "carbon", carbon, "kg", 0.7 * carbon, 1.3 * carbon),
        spoil=figure(f"{key}.spoil", "spoil", spoil, "m³", places=1),
        trips=figure(f"{key}.trips", "lorry trips", round(spoil * 1.4 + 2), "trips"),
        hours=figure(f"{key}.hours", "work", 14 + 3 * spoil, "h", 11 + 3 * spoil, 19 + 3 * spoil),
        days=figure(f"{key}.days", "days until it may be used", 9 if "treat" in method else 2, "days"),
        strength_days=12.0 if "treat" in method else None,
        dose_words="6 % of dry soil = 15.3 kg/m² = 14 mm loose" if "treat" in method else "",
        checks=lines,
        weakest=weakest.name,
        any_failure=AnyFailure(
            chance=0.07,
            standard_error=0.004,
            chance_text="about 1 in 14",
            leading=("frost",),
            sentence="7.0 % ± 0.4, mostly frost",
        ),
        passes=passes,
        because=because,
    )


FLAGS_ON_SAND = (
    CourseLine(material="flags", thickness_mm=50),
    CourseLine(material="bedding sand", thickness_mm=40),
)


def area_choice(name, area_m2):
    stone = (*FLAGS_ON_SAND, CourseLine(material="crushed stone", thickness_mm=200))
    cement = (*FLAGS_ON_SAND, CourseLine(material="treated soil", thickness_mm=150, dose_percent=6.0))
    lime = (
        *FLAGS_ON_SAND,
        CourseLine(material="treated soil", thickness_mm=150, dose_percent=4.0, lime_percent=2.0),
    )
    slab = (
        CourseLine(material="concrete", thickness_mm=100),
        CourseLine(material="crushed stone", thickness_mm=100),
    )
    size = area_m2 / 12.6
    treat, stone_way = "treat in place with cement", "dig and bring in stone"
    ways = (
        way(
            *("cement-150", treat, "150 mm of soil treated with cement", cement),
            *(412 * size, 205 * size, 0.3, 1.0, True),
            "cheapest of the ways that meet every target, and five lorry trips fewer than stone",
        ),
        way(
            *("stone-200", stone_way, "200 mm of crushed stone", stone),
            *(538 * size, 148 * size, 3.4, 0.6, True),
            "meets every target with the least carbon; dearer by the digging and the spoil",
        ),
        way(
            *(
                "lime-150",
                "treat in place with lime, then cement",
                "150 mm treated with lime, then cement",
                lime,
            ),
            *(497 * size, 268 * size, 0.3, 0.9, True),
            "meets every target; the lime buys nothing on a clay this lean",
        ),
        way(
            *("slab-100", "concrete slab on a thin base", "100 mm slab on 100 mm of stone", slab),
            *(690 * size, 372 * size, 2.2, 0.3, True),
            "meets every target; dearest and heaviest in carbon",
        ),
        way(
            *("sand-bed", "paving on a sand bed only", "flags on sand", FLAGS_ON_SAND),
            *(268 * size, 61 * size, 1.1, 6.0, False),
            "falls on softening: after the first thaw the clay under the sand ruts, about 1 in 9",
        ),
    )
    return AreaChoice(
        name=name,
        area_m2=area_m2,
        stands_on_it=("tool store, 11 kN", "filled shelving, 4.2 kN/m²", "barrow, 1.6 kN"),
        ways=ways,
        front=tuple(
            FrontPoint(
                way=w.key,
                title=w.title,
                price=w.price.value,
                price_text=f"£{w.price.value:,.0f}",
                carbon_kg=w.carbon.value,
            )
            for w in ways[:2]
        ),
        chosen="cement-150",
        ranked_by="price",
        swept=64,
        says=(
            "Treating the soil costs a quarter less than stone and leaves almost no spoil.",
            "Stone carries a quarter less carbon: the cement outweighs the lorries at this size.",
            "The weak spot of the treated layer is an uneven spread; weigh a tray in each bay.",
        ),
    )


def choose_answer():
    return ChooseAnswer(
        **answer_values("choose", "Treat 150 mm of the soil with cement: every check meets its target."),
        areas=(area_choice("tool store base", 12.6), area_choice("path", 16.8)),
        draws=4096,
        currency="GBP",
        price_date="2031-03",
    )


def trail_steps(key):
    return (
        TrailStep(
            figure=figure(key, f"capacity in {key.split('.')[1]}", 95, "kPa", 57, 142),
            origin="worked out",
            because="",
            relation="Bearing resistance of a shallow strip on undrained clay.",
            formula="q = (2 + π) · c · s + γ · D, with c undrained strength, s shape factor, "
            "γ unit weight, D depth.",
            inputs=(
                figure("ground.clay.strength", "undrained strength", 17, "kPa", 10, 27),
                figure("load.shape", "shape factor", 1.2, "", places=1),
            ),
            sources=(INVENTED,),
        ),
        TrailStep(
            figure=figure("ground.clay.strength", "undrained strength", 17, "kPa", 10, 27),
            origin="from observations",
            because="thumb pushes in 6 mm; ribbon breaks at 80 mm; wet season",
            relation="",
            formula="",
            inputs=(),
            sources=(PRACTICE, INVENTED),
        ),
        TrailStep(
            figure=figure("load.shape", "shape factor", 1.2, "", places=1),
            origin="assumed",
            because="a patch as long as it is wide",
            relation="",
            formula="",
            inputs=(),
            sources=(PRACTICE,),
        ),
    )


@pytest.fixture(name="build_answer", scope="session")
def _build_answer():
    return build_answer()


@pytest.fixture(name="choose_answer", scope="session")
def _choose_answer():
    return choose_answer()


@pytest.fixture(name="influences", scope="session")
def _influences():
    return influences()


@pytest.fixture(name="trail", scope="session")
def _trail():
    return trail_steps("tool store base.bearing.capacity")


@pytest.fixture(name="area_build", scope="session")
def _area_build():
    return area_build


@pytest.fixture(name="bays", scope="session")
def _bays():
    return bays


@pytest.fixture(name="answer_of_areas", scope="session")
def _answer_of_areas():
    return build_answer


def influences():
    strength = figure("ground.clay.strength", "undrained strength", 17, "kPa", 10, 27)
    load = figure("load.shelf", "filled shelving", 4.2, "kN/m²", 2.9, 6.0, 1)
    return (
        InfluenceLine(figure=strength, share=0.62, rising=True),
        InfluenceLine(figure=load, share=0.21, rising=False),
    )
