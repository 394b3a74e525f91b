"""The shape of a growing file, section by section. A field's description is what a grower reads about it; every field
that is left out is missing, and whatever needs it says so."""

from typing import Annotated, Any, Final, Literal

from pydantic import Field, field_validator, model_validator

from waterleaf.bank.models import Strict
from waterleaf.faults import nearest
from waterleaf.growing.facts import SPECIES
from waterleaf.growing.measures import Measure
from waterleaf.growing.shapes import shape_volume

Line = Annotated[str, Field(min_length=1, max_length=200)]
Name = Annotated[str, Field(pattern=r"^[A-Za-z][A-Za-z0-9_ -]{0,30}$")]

Length = Annotated[float, Measure("m", 0.05, 1000)]
Volume = Annotated[float, Measure("L", 1, 5e6)]
Area = Annotated[float, Measure("m^2", 0.02, 50_000)]
Flow = Annotated[float, Measure("L/min", 0.1, 50_000)]
DailyWater = Annotated[float, Measure("L/day", 0, 1e6)]
Level = Annotated[float, Measure("mm", 0, 5000)]
Power = Annotated[float, Measure("W", 0.5, 1e6)]
Days = Annotated[float, Measure("day", 0.25, 400)]
Weeks = Annotated[float, Measure("week", 0.5, 60)]
Percent = Annotated[float, Measure("percent", 0, 100)]
Content = Annotated[float, Measure("mg/L", 0, 1000)]
Count = Annotated[float, Measure("", 1, 1e6, whole=True)]
Warmth = Annotated[float, Measure("degC", -60, 60)]

BedKind = Literal["raft", "media", "film", "soil"]
CropKind = Literal["leafy", "fruiting"]
Destination = Literal["loop", "compost", "garden", "drain", "sewer", "carted"]
IN_THE_LOOP: Final = ("raft", "media", "film")
# A stated volume and the measures of the same tank may differ by this share before one of them must be wrong.
_AGREES: Final = 0.15


class Vessel(Strict):
    """A tank by its volume, or by its measures."""

    volume: Volume | None = Field(None, description="Water in the tank while the pump runs.")
    diameter: Length | None = Field(None, description="Inner diameter, of a round tank.")
    length: Length | None = Field(None, description="Inner length, of a tank with corners.")
    width: Length | None = Field(None, description="Inner width, of a tank with corners.")
    depth: Length | None = Field(None, description="Depth of the water at the wall.")

    @model_validator(mode="after")
    def _one_shape(self) -> "Vessel":
        if self.diameter is not None and (self.length is not None or self.width is not None):
            raise ValueError("diameter and length: a tank is round or has corners. Give one or the other.")
        shaped = shape_volume(self)
        if self.volume and shaped and abs(self.volume - shaped) > _AGREES * shaped:
            raise ValueError(f"volume: {self.volume:.0f} L cannot be; the measures hold {shaped:.0f} L. Mend one.")
        if isinstance(self, Tank) and self.volume is None and shaped is None:
            raise ValueError(
                "this tank has no size. Give volume, or diameter and depth, or length, width and depth."
            )
        return self


class Tank(Vessel):
    """A fish tank."""

    name: Name


class Clarifier(Vessel):
    """The settling tank."""

    cone_depth: Length | None = Field(None, description="Depth of the cone below the wall.")
    cone_volume: Volume | None = Field(None, description="Sludge that the cone holds.")
    plan_area: Area | None = Field(None, description="The settling tank seen from above.")
    flow: Flow | None = Field(None, description="Water through the settling tank.")


class Fine(Strict):
    """Netting or another tank that catches fine solids."""

    volume: Volume | None = Field(None, description="Water in the tank of netting.")
    full_at: Percent | None = Field(None, description="Share of that tank that may fill with sludge.")
    cleaned_every: Days | None = Field(None, description="Days from one cleaning of that tank to the next.")


class Bed(Strict):
    """One bed and what grows in it."""

    name: Name
    kind: BedKind = Field(description="raft, media and film stand in the loop; soil does not.")
    crop: Name | None = None
    area: Area
    water_depth: Level | None = Field(None, description="Depth of the water while the pump runs.")
    level_fall: Level | None = Field(None, description="How far the water falls to the standpipe's rim without pump.")
    void_share: Annotated[float, Measure("percent", 1, 100)] | None = Field(
        None, description="Of a media bed: room between the stones."
    )

    @model_validator(mode="after")
    def _falls_within_its_water(self) -> "Bed":
        if self.level_fall is not None and self.water_depth is not None and self.level_fall > self.water_depth:
            raise ValueError(
                f"level_fall: the water cannot fall {self.level_fall:g} mm where it is {self.water_depth:g} mm deep. "
                "Mend one."
            )
        return self


class Sump(Strict):
    """The lowest tank."""

    area: Area | None = Field(None, description="The sump seen from above.")
    freeboard: Level | None = Field(None, description="From the sump's water, while the pump runs, up to its overflow.")
    volume: Volume | None = Field(None, description="Water in the sump while the pump runs.")


class Pipe(Strict):
    """A run of pipe that empties when the pump stops."""

    bore: Annotated[float, Measure("mm", 3, 1000)]
    length: Annotated[float, Measure("m", 0.05, 2000)]


class Pump(Strict):
    """The one pump."""

    flow: Flow | None = Field(None, description="Water moved, measured at the outlet with a bucket and a watch.")
    power: Power | None = Field(None, description="Electrical power that the pump draws.")
    static_lift: Annotated[float, Measure("m", 0, 50)] | None = Field(
        None, description="From the sump's water up to the highest outlet."
    )


class Aeration(Strict):
    """Blower and stones."""

    standard_rate: Annotated[float, Measure("kg/hour", 0.001, 500)] | None = Field(
        None, description="Oxygen brought in clean water at 20 degrees and no oxygen, from the maker's sheet."
    )
    outlets: Count | None = Field(None, description="Number of air stones.")
    depth: Length | None = Field(None, description="Depth of the air stones below the water.")
    outlet_flow: Flow | None = Field(None, description="Air through one stone.")


class Sludge(Strict):
    """Where flushed solids go, and the tanks in which air breaks them down."""

    tank_volume: Volume | None = Field(None, description="One tank in which air breaks sludge down, brim full.")
    tanks: Count | None = Field(None, description="Number of such tanks.")
    fill_days: Days | None = Field(None, description="Days in which one tank is filled with flushed sludge.")
    treat_days: Days | None = Field(None, description="Days under air after the last sludge has come in.")
    rest_days: Annotated[float, Measure("day", 0, 14)] | None = Field(
        None, description="Days without air before a batch is drawn off, so that it settles."
    )
    headroom: Percent | None = Field(None, description="Share of a sludge tank left empty for foam.")
    settled: Percent | None = Field(None, description="Share of a batch that settles, read in a cylinder.")
    goes_to: list[Destination] | None = Field(None, min_length=1, max_length=6)


class House(Strict):
    """The house over it all."""

    u_value: Annotated[float, Measure("W/m^2/K", 0.1, 15)] | None = Field(
        None, description="Heat that a square metre of cover lets through for each degree."
    )
    cover_area: Area | None = Field(None, description="All of the cover: walls, gables and roof.")
    air_volume: Annotated[float, Measure("m^3", 1, 1e6)] | None = Field(None, description="Air in the house.")
    air_changes: Annotated[float, Measure("1/hour", 0.05, 60)] | None = Field(
        None, description="How often an hour the air is renewed through leaks, with all vents shut."
    )
    inside: Warmth | None = Field(None, description="Warmth of the air that the house is held at.")
    outside: Warmth | None = Field(None, description="Air outside on the coldest night that you plan for.")
    heater: Power | None = Field(None, description="Heat that the heater gives at most.")


class Fish(Strict):
    """The stock."""

    species: Line
    number: Count | None = Field(None, description="Number of fish in all tanks.")
    mean_weight: Annotated[float, Measure("g", 0.1, 30_000)] | None = Field(
        None, description="Live weight of one fish, the mean of a weighed sample."
    )
    conversion_ratio: Annotated[float, Measure("", 0.5, 6)] | None = Field(
        None, description="Feed fed for a kilogram of gain, from your own weighings."
    )

    @field_validator("species")
    @classmethod
    def _known(cls, species: str) -> str:
        if species.lower() not in SPECIES:
            raise ValueError(
                f"{species!r} is not known here.{nearest(species.lower(), SPECIES)} Give {', '.join(SPECIES)}."
            )
        return species.lower()


class Feed(Strict):
    """What the fish get."""

    daily: Annotated[float, Measure("g/day", 0.5, 1e6)] | None = Field(
        None, description="Feed given to all fish together in a day."
    )
    protein: Annotated[float, Measure("percent", 10, 65)] | None = Field(
        None, description="Crude protein in the feed, from its label."
    )
    meals: Annotated[float, Measure("", 1, 24, whole=True)] | None = Field(None, description="Meals a day.")


class Flush(Strict):
    """How the settling tank is flushed."""

    volume: Annotated[float, Measure("L", 0.1, 10_000)] | None = Field(
        None, description="Sludge and water let out in one flush of the settling tank."
    )
    times: Annotated[float, Measure("", 1, 24, whole=True)] | None = Field(
        None, description="Flushes of the settling tank a day."
    )


class Water(Strict):
    """Readings of the loop, and what comes in and goes out."""

    temperature: Annotated[float, Measure("degC", 0, 40)] | None = Field(
        None, description="Warmth of the loop's water."
    )
    ph: Annotated[float, Measure("", 4, 11)] | None = Field(None, description="pH of the loop's water.")
    ammonia: Content | None = Field(None, description="Total ammonia in the loop, as nitrogen.")
    nitrite: Content | None = Field(None, description="Nitrite in the loop, as nitrogen.")
    nitrate: Content | None = Field(None, description="Nitrate in the loop, as nitrogen.")
    oxygen: Annotated[float, Measure("mg/L", 0, 30)] | None = Field(
        None, description="Oxygen in the fish tanks, the lowest of the day."
    )
    alkalinity: Content | None = Field(None, description="Alkalinity of the loop, as calcium carbonate.")
    wished_alkalinity: Content | None = Field(
        None, description="Alkalinity that you want to hold, as calcium carbonate."
    )
    new_water: DailyWater | None = Field(None, description="New water of all kinds, metered.")
    to_drain: DailyWater | None = Field(None, description="Water let out to any drain, ditch or sewer.")

    @model_validator(mode="after")
    def _no_more_out_than_in(self) -> "Water":
        if self.new_water is not None and self.to_drain is not None and self.to_drain > self.new_water:
            raise ValueError(
                f"to_drain: {self.to_drain:g} L/day cannot leave where {self.new_water:g} L/day come in. Mend one."
            )
        return self


class Filter(Strict):
    """Media on which bacteria live."""

    media_volume: Volume | None = Field(None, description="Stones or other media on which bacteria live.")
    specific_surface: Annotated[float, Measure("m^2/m^3", 10, 10_000)] | None = Field(
        None, description="Surface that a cubic metre of the media offers."
    )


class Crop(Strict):
    """How a crop is grown and sold."""

    kind: CropKind | None = Field(None, description="Grown for its leaves or its fruit.")
    density: Annotated[float, Measure("plant/m^2", 0.1, 2000)] | None = Field(
        None, description="Plants on a square metre of bed."
    )
    weeks_in_bed: Weeks | None = Field(None, description="From planting out to the last cut or pick.")
    nursery_days: Days | None = Field(None, description="From sowing to planting out.")
    picked_every: Days | None = Field(
        None, description="Days from one picking to the next, of a crop picked again and again."
    )
    pruned_every: Days | None = Field(None, description="Of a vine: days from one pruning to the next.")
    lowered_every: Days | None = Field(None, description="Of a vine: days from one lowering to the next.")
    germination: Annotated[float, Measure("percent", 1, 100)] | None = Field(None, description="Seeds that come up.")
    survival: Annotated[float, Measure("percent", 1, 100)] | None = Field(
        None, description="Seedlings that live to be planted out."
    )
    price: Annotated[float, Measure("dollar/head", 0.01, 1000)] | None = Field(
        None, description="What you are paid for a head."
    )
    cost: Annotated[float, Measure("dollar/head", 0, 1000)] | None = Field(None, description="Variable cost of a head.")
    yield_: Annotated[float, Measure("kg/m^2", 0.01, 200)] | None = Field(
        None, alias="yield", description="Harvest of one crop, where it is sold by weight."
    )
    price_by_weight: Annotated[float, Measure("dollar/kg", 0.01, 1000)] | None = Field(
        None, description="What you are paid for a kilogram."
    )
    cost_by_area: Annotated[float, Measure("dollar/m^2", 0, 10_000)] | None = Field(
        None, description="Variable cost of a square metre for one crop."
    )
    loss: Annotated[float, Measure("percent", 0, 95)] | None = Field(None, description="Share that is not sold.")
    labour: Annotated[float, Measure("hour/m^2/week", 0, 100)] | None = Field(
        None, description="Work for a square metre a week, from sowing to packing."
    )
    light: Annotated[float, Measure("mol/m^2/day", 0, 80)] | None = Field(
        None, description="Light that it needs in a day, sun and lamps together."
    )
    largest_area: Area | None = Field(None, description="Area whose harvest you can sell.")
    promised_area: Area | None = Field(None, description="Area that you have promised to grow.")


class Season(Strict):
    """What there is this season for all crops together."""

    labour: Annotated[float, Measure("hour/week", 0.01, 1e6)] | None = Field(
        None, description="Work that the crew can give to the crops."
    )
    sun: Annotated[float, Measure("mol/m^2/day", 0, 80)] | None = Field(
        None, description="Light of the sun under the cover, a mean day of the season."
    )
    lamp_light: Annotated[float, Measure("mol/day", 0, 1e9)] | None = Field(
        None, description="Light that all lamps together give in a day."
    )


class Site(Strict):
    """The place."""

    altitude: Annotated[float, Measure("m", 0, 5000)] | None = Field(None, description="Height above the sea.")


class GrowingFile(Strict):
    """One school's growing system."""

    name: Line
    note: Line | None = None
    site: Site = Field(default_factory=Site)
    tanks: list[Tank] = Field(default_factory=list, max_length=40)
    clarifier: Clarifier = Field(default_factory=Clarifier)
    fine: Fine = Field(default_factory=Fine)
    beds: list[Bed] = Field(default_factory=list, max_length=60)
    sump: Sump = Field(default_factory=Sump)
    pipes: list[Pipe] = Field(default_factory=list, max_length=60)
    pump: Pump = Field(default_factory=Pump)
    aeration: Aeration = Field(default_factory=Aeration)
    sludge: Sludge = Field(default_factory=Sludge)
    house: House = Field(default_factory=House)
    fish: Fish | None = None
    feed: Feed = Field(default_factory=Feed)
    flush: Flush = Field(default_factory=Flush)
    water: Water = Field(default_factory=Water)
    filter: Filter = Field(default_factory=Filter)
    season: Season = Field(default_factory=Season)
    crops: dict[Name, Crop] = Field(default_factory=dict, max_length=40)
    measured: dict[str, Any] = Field(
        default_factory=dict, description="Values of your own in place of assumed ones, by their names."
    )

    @model_validator(mode="after")
    def _one_pump_moves_it_all(self) -> "GrowingFile":
        through, moved = self.clarifier.flow, self.pump.flow
        if through is not None and moved is not None and through > (1 + _AGREES) * moved:
            raise ValueError(
                f"clarifier.flow: {through:g} L/min cannot pass the settling tank where the one pump moves "
                f"{moved:g} L/min. Mend one."
            )
        return self
