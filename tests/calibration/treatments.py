"""Draws of objects from the stated priors, of treatments, and of what was read of them."""

import math

import numpy as np
from simulate import Body, Lines, Treatment, Truth, reserve

# The priors that the header aeruca/bath_posterior.hpp states: (median, factor).
PRIORS = {
    "rate_per_day": (0.01, 6.0),
    "load_mg_per_first_litre": (100.0, 8.0),
    "first_alpha": (30.0, 3.0),
    "biot": (6.0, 3.0),
    "spread": (1.0, 1.5),
    "slow_odds": (0.67, 2.7),
    "slowness": (30.0, 2.5),
    "solid_over_dissolved": (10.0, 2.7),
    "scatter": (0.05, 1.6),
}
MODELS = ["slab", "cylinder", "sphere", "at metal", "film", "spread", "two stores", "reserve"]
MISFITS = ["layer lost", "cracks open", "chemistry changed", "outside source"]
LIMIT = 2.5  # mg/L, of the method
BLANK = 0.3
OFF, OFF_BY = 0.03, 4.0


def draw(name: str, random: np.random.Generator) -> float:
    median, factor = PRIORS[name]
    return float(median * factor ** random.standard_normal())


def treatment(random: np.random.Generator) -> Treatment:
    """Five to fourteen baths of days to a month, half of them of one volume and one length."""
    count = int(random.integers(5, 15))
    if random.random() < 0.5:
        days = np.full(count, math.exp(random.uniform(math.log(5), math.log(30))))
        volumes = np.ones(count)
    else:
        days = np.exp(random.uniform(math.log(2), math.log(40), count))
        volumes = np.exp(random.uniform(math.log(0.5), math.log(2), count))
    return Treatment(np.round(volumes, 2), np.maximum(np.round(days), 1.0), BLANK)


def lines_of(variant: str, extras: tuple[float, ...]) -> Lines:
    inf = math.inf
    if variant in ("slab", "cylinder", "sphere"):
        return Lines(Body([(variant, 1, 1, 1, inf, False)]))
    if variant == "at metal":
        return Lines(Body([("slab", 1, 1, 1, inf, True)]))
    if variant == "film":
        return Lines(Body([("slab", 1, 1, 1, extras[0], False)]))
    if variant == "two stores":
        slow = extras[0] / (1 + extras[0])
        quick = ("slab", 1 - slow, 1 - slow, 1.0, inf, False)
        return Lines(Body([quick, ("slab", slow, slow, 1 / extras[1], inf, False)]))
    if variant == "spread":
        # Twelve layers in even steps of probability, so not the nodes of the model that judges.
        from scipy.stats import norm

        z = norm.ppf((np.arange(12) + 0.5) / 12)
        return Lines(Body([("slab", 1 / 12, 1 / 12, math.exp(extras[0] * x), inf, False) for x in z]), 40)
    raise ValueError(variant)


def extras_of(variant: str, random: np.random.Generator) -> tuple[float, ...]:
    names = {
        "film": ["biot"],
        "spread": ["spread"],
        "two stores": ["slow_odds", "slowness"],
        "reserve": ["solid_over_dissolved"],
    }
    return tuple(draw(name, random) for name in names.get(variant, []))


def simulate(variant: str, done: Treatment, random: np.random.Generator) -> Truth:
    """An object of the variant, drawn from the priors and taken through the treatment."""
    base = variant if variant in MODELS else "slab"
    truth = Truth(
        variant,
        draw("load_mg_per_first_litre", random) * done.volumes[0],
        draw("rate_per_day", random),
        done.volumes[0] / draw("first_alpha", random),
        extras_of(base, random),
    )
    alphas, taus = done.volumes / truth.capacity, truth.rate * done.days
    fills = done.blank * done.volumes / truth.load
    if variant in MISFITS:
        misfit(truth, alphas, taus, fills, done, random)
        return truth
    if variant == "reserve":
        fraction, left = reserve(truth.extras[0], alphas, np.minimum(taus, 40.0))
        plain, _ = Lines(Body([("slab", 0, 1, 1, math.inf, False)])).run(alphas, taus, fills)
        fraction = fraction + plain
    else:
        fraction, left = lines_of(variant, truth.extras).run(alphas, taus, fills)
    truth.readings = truth.load * fraction / done.volumes
    truth.left = truth.load * left
    return truth


def misfit(truth, alphas, taus, fills, done, random) -> None:
    """Histories that no model has: what a record keeper would not know or not write down."""
    count = len(alphas)
    at = int(random.integers(count // 3, max(count // 3 + 1, 2 * count // 3)))
    lines = lines_of("slab", ())
    extra = np.zeros(count)
    if truth.variant == "layer lost":  # a flake with part of the chloride goes into one bath
        first, left = lines.run(alphas[:at], taus[:at], fills[:at])
        lost = left * random.uniform(0.2, 0.6)
        again = lines_of("slab", ())
        whole, end = again.run(alphas, taus, fills)
        scale = 1 - lost / left
        fraction = np.concatenate([first, whole[at:] * scale])
        extra[at] = lost
        truth.left = truth.load * end * scale
    elif truth.variant == "cracks open":
        quick = taus.copy()
        quick[at:] *= random.uniform(8, 30)
        fraction, left = lines.run(alphas, quick, fills)
        truth.left = truth.load * left
    elif truth.variant == "chemistry changed":  # the new liquid frees what was bound
        first, left = lines.run(alphas[:at], taus[:at], fills[:at])
        bound = random.uniform(1, 4)
        more, end = lines_of("slab", ()).run(alphas[at:], taus[at:], fills[at:])
        fraction = np.concatenate([first, more * bound])
        truth.left = truth.load * bound * end
    else:  # tap water, or a salted brush: a little chloride in every later bath
        fraction, left = lines.run(alphas, taus, fills)
        extra[at:] = random.uniform(0.02, 0.1)
        truth.left = truth.load * left
    truth.readings = truth.load * (fraction + extra) / done.volumes


def log_of(truth: Truth, done: Treatment, random: np.random.Generator) -> str:
    """The log a bench would keep: errors stated in two of three, one bath in ten not read."""
    stated = random.random() < 0.67
    scatter = 0.05 if stated else draw("scatter", random)
    rows = ["start,end,volume_l,chloride_mg_per_l,error_mg_per_l,detection_limit_mg_per_l,blank_mg_per_l"]
    day = np.datetime64("2025-01-01")
    for k, (true, volume, days) in enumerate(
        zip(truth.readings, done.volumes, done.days, strict=True)
    ):
        end = day + int(days)
        error = math.hypot(scatter * true, LIMIT / 3.3)
        sigma = math.hypot(error, 0.02 * true)
        reading = true + sigma * random.standard_normal() * (OFF_BY if random.random() < OFF else 1)
        text = f"{reading:.4f}" if reading >= LIMIT else f"<{LIMIT}"
        if k > 0 and random.random() < 0.1:
            text = ""
        wrote = f"{error:.4f}" if stated and reading >= LIMIT and text else ""
        rows.append(f"{day},{end},{volume},{text},{wrote},{LIMIT},{done.blank}")
        day = end
    return "\n".join(rows) + "\n"
