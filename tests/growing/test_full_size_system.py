"""A published raft system at full size, run through the check and a year of the look ahead, and held against what its
builders printed.

The system is that of the University of the Virgin Islands. Sizes: the station's web page "Aquaponic systems:
application" (4 rearing tanks of 7,800 L, 2 clarifiers of 3,785 L, 4 filter tanks and a degassing tank of 700 L, 6 raft
tanks of 11,356 L, sump 605 L, base tank 208 L, 214 m2 of rafts, 25 gpm to each tank). Feed: 81.4 and 99.6 g/m2/day in
the two basil crops of Rakocy, Shultz, Bailey and Thoman (2004); the mean is taken. Conversion 1.7 and 4.16 t of Nile
tilapia a year: Rakocy, Bailey, Shultz and Thoman (2004), update. 32 % protein: the station's page on its biofloc tank.
Readings at the start are of no weight after a year; they are chosen.

Nitrate is held against nothing: no measured value could be read. The sums let it climb to some hundred mg/L in a year,
since they assume that a fifth is lost as gas; the builders' netting tanks are known to lose much more (their slides
tell of nitrogen gas from sludge pockets in them), and they clean them less often where nitrate is too high.
"""

from functools import cache
from pathlib import Path

import pytest

from waterleaf.growing.check import check
from waterleaf.growing.finding import Finding
from waterleaf.growing.system import System, read_growing
from waterleaf.growing.term import Term, Today, run
from waterleaf.growing.term_rates import Rates, rates_of

AREA = 214.0
FEED = (81.4 + 99.6) / 2 * AREA

FILE = f"""
name: A published raft system
site: {{altitude: 10 m}}
tanks:
  - {{name: rearing 1, volume: 2060 gal, diameter: 10 ft}}
  - {{name: rearing 2, volume: 2060 gal, diameter: 10 ft}}
  - {{name: rearing 3, volume: 7800 L, diameter: 10 ft}}
  - {{name: rearing 4, volume: 7800 L, diameter: 10 ft}}
# Two clarifiers side by side stand here as one of the same plan; filter, degassing and base tanks count as fine tanks.
clarifier: {{volume: 2000 gal, diameter: 8.485 ft, cone_volume: 1000 L, flow: 100 gpm}}
fine: {{volume: 2800 L, full_at: 50 %, cleaned_every: 4 days}}
beds:
  - {{name: rafts, kind: raft, crop: basil, area: 214 m^2, water_depth: 318 mm, level_fall: 10 mm}}
sump: {{volume: 160 gal, area: 1.17 m^2, freeboard: 300 mm}}
pump: {{flow: 100 gpm}}
fish: {{species: nile tilapia, number: 2400, mean_weight: 450 g, conversion_ratio: 1.7}}
feed: {{daily: {FEED:.0f} g/day, protein: 32 %, meals: 3}}
flush: {{volume: 130 L, times: 3}}
water: {{temperature: 28 C, ph: 7.0, ammonia: 2 mg/L, nitrite: 1 mg/L, nitrate: 30 mg/L, oxygen: 5.5 mg/L,
  alkalinity: 60 mg/L, wished_alkalinity: 60 mg/L}}
"""


@cache
def system() -> System:
    """The system, its file read like anybody's."""
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "full-size.yaml"
        path.write_text(FILE, encoding="utf-8")
        return read_growing(path)


@cache
def rates() -> Rates:
    """Its rates."""
    return rates_of(system())[0]


@cache
def year() -> Term:
    """A year as planned."""
    return run(rates(), [Today()] * 365)


def found(key: str) -> Finding:
    """One of the findings."""
    return next(one for one in check(system()) if one.key == key)


def number(name: str) -> float:
    """A value of the system."""
    value = system().get(name)
    assert value is not None
    return value.number


def test_the_loop_holds_what_its_builders_say() -> None:
    """110 m3 printed, rounded from 111.2; degassing and base tank (0.9 m3) and filter tanks (2.8 m3) have no place in
    a growing file, so that 107.5 m3 are expected."""
    assert number("system.volume") == pytest.approx(111_219 - 5 * 700 - 208, rel=0.002)
    assert number("system.volume") == pytest.approx(110_000, rel=0.03)


def test_times_in_tanks_and_clarifiers_are_those_on_the_builders_slides() -> None:
    """1.37 h in the rearing tanks and 20 minutes in the clarifiers (UVI slide deck)."""
    assert found("turnover").value == pytest.approx(1.37, abs=0.01)
    assert found("retention").value == pytest.approx(20, abs=0.05)


def test_the_feed_ratio_lies_in_the_builders_band() -> None:
    """60 to 100 g/m2/day (Rakocy 2007, guideline 1); nothing stands at mend."""
    ratio = found("feed_ratio")
    assert ratio.standing == "fine" and 60 <= float(ratio.value or 0) <= 100


def test_a_year_grows_the_fish_that_were_sold() -> None:
    """4.16 t a year from the harvests, by weight sold; feed comes from another paper, so that 5 % are allowed."""
    term = year()
    gained = term.end.biomass - rates().biomass
    assert gained == pytest.approx(4160, rel=0.05)


def test_the_water_that_goes_in_a_day_is_near_the_published_share() -> None:
    """1.5 % of 110 m3 a day, 1.65 m3 (Rakocy, Masser and Losordo 2006). The sums give 1.0: evaporation, transpiration
    measured far from the tropics, and sludge, without the hosing-down of the netting tanks and without splash. So 40 %
    are allowed, and only on the side of too little."""
    steady = year().days[100:]
    daily = sum(day.top_up for day in steady) / len(steady)
    assert 0.6 * 1650 <= daily <= 1650


def test_rafts_as_the_only_filter_hold_the_ammonia() -> None:
    """The builders ran it without another filter: over a year ammonia rests, its harmful part below 0.05 mg/L."""
    days = year().days
    assert abs(days[-1].ammonia - days[-31].ammonia) < 0.2
    assert max(day.harmful for day in days[30:]) < 0.05


def test_the_crop_gets_the_nitrogen_that_was_measured() -> None:
    """0.83 g/m2/day of nitrogen and 0.17 of phosphorus were taken up by romaine (UVI slides): the water never lacks
    nitrogen, and the crop's share of the feed's nitrogen lies in the 16 to 27 % that 60 to 100 g/m2/day give."""
    books = year().end.books
    assert books.total("nitrogen", places=("crop",)) == pytest.approx(0.83 * AREA * 365, rel=0.001)
    assert 0.16 <= books.total("nitrogen", places=("crop",)) / -books.of("nitrogen@feed") <= 0.27


def test_every_gram_of_the_years_nitrogen_is_found_again() -> None:
    """Feed in, and fish, crop, water, sludge, gas and drain out, add up."""
    books = year().end.books
    fed = FEED * 365 * 0.32 / 6.25
    start = (2 + 1 + 30) * rates().waters.volume / 1000
    assert books.total("nitrogen") - books.of("nitrogen@feed") - start == pytest.approx(fed, rel=1e-4)
