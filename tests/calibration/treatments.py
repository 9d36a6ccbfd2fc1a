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
MISFIT_SIZE = {
    "layer lost": (0.2, 0.6),
    "cracks open": (8.0, 30.0),
    "chemistry changed": (2.0, 5.0),
    "outside source": (0.02, 0.1),
}
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
        rates = np.exp(extras[0] * z)
        return Lines(Body([("slab", 1 / 12, 1 / 12, rate, inf, False) for rate in rates]), 40)
    raise ValueError(variant)


def extras_of(variant: str, random: np.random.Generator) -> tuple[float, ...]:
    names = {
        "film": ["biot"],
        "spread": ["spread"],
        "two stores": ["slow_odds", "slowness"],
        "reserve": ["solid_over_dissolved"],
    }
    return tuple(draw(name, random) for name in names.get(variant, []))


def drawn(variant: str, done: Treatment, random: np.random.Generator) -> Truth:
    """An object of the variant, drawn from the priors; misfits with when and how much."""
    base = variant if variant in MODELS else "slab"
    truth = Truth(
        variant,
        draw("load_mg_per_first_litre", random) * done.volumes[0],
        draw("rate_per_day", random),
        done.volumes[0] / draw("first_alpha", random),
        extras_of(base, random),
    )
    count = len(done.days)
    truth.when = int(random.integers(count // 3, max(count // 3 + 1, 2 * count // 3)))
    low, high = MISFIT_SIZE.get(variant, (0.0, 0.0))
    truth.size = float(random.uniform(low, high))
    return truth


def take_through(truth: Truth, done: Treatment) -> tuple[np.ndarray, np.ndarray]:
    """Readings (mg/L, before their error) and what is left (mg) at the end of every bath."""
    alphas = done.volumes / truth.capacity
    taus = truth.rate * done.days
    fills = done.blank * done.volumes / truth.load
    if truth.variant in MISFITS:
        fraction, left = misfit(truth, alphas, taus, fills)
    elif truth.variant == "reserve":
        fraction, left = reserve(truth.extras[0], alphas, np.minimum(taus, 40.0))
        plain = Lines(Body([("slab", 0, 1, 1, math.inf, False)])).run(alphas, taus, fills)
        fraction, left = fraction + plain[0], left + plain[1]
    else:
        fraction, left = lines_of(truth.variant, truth.extras).run(alphas, taus, fills)
    return truth.load * fraction / done.volumes, truth.load * left


def misfit(
    truth: Truth, alphas: np.ndarray, taus: np.ndarray, fills: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Histories that no model has: what a record keeper would not know or not write down."""
    at, size = truth.when, truth.size
    lines = lines_of("slab", ())
    fraction, left = lines.run(alphas, taus, fills)
    if truth.variant == "layer lost":  # a flake with part of the chloride goes into one bath
        fraction[at] += size * left[at - 1]
        fraction[at + 1 :] *= 1 - size
        left[at:] *= 1 - size
    elif truth.variant == "cracks open":
        quick = taus.copy()
        quick[at:] *= size
        fraction, left = lines.run(alphas, quick, fills)
    elif truth.variant == "chemistry changed":  # the new liquid frees what was bound
        fraction[at:] *= size
        left *= size
    else:  # tap water, or a salted brush: a little chloride in every later bath
        fraction[at:] += size
    return fraction, left


def simulate(variant: str, done: Treatment, random: np.random.Generator) -> Truth:
    """An object of the variant, drawn from the priors and taken through the treatment."""
    truth = drawn(variant, done, random)
    truth.readings, left = take_through(truth, done)
    truth.left = float(left[-1])
    return truth


def log_of(truth: Truth, done: Treatment, random: np.random.Generator) -> str:
    """The log a bench would keep: errors stated in two of three, one bath in ten not read."""
    stated = random.random() < 0.67
    scatter = 0.05 if stated else draw("scatter", random)
    columns = "chloride_mg_per_l,error_mg_per_l,detection_limit_mg_per_l,blank_mg_per_l"
    rows = [f"start,end,volume_l,{columns}"]
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
