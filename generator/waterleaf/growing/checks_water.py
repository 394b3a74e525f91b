"""Findings on what the fish breathe and what poisons them: oxygen, ammonia, alkalinity, and the pump that stops."""

from typing import Final

from waterleaf.calc.quantity import cite
from waterleaf.growing.checks_feed import Check
from waterleaf.growing.facts import NITRITE_GILLS, NITRITE_LIMIT, SPECIES
from waterleaf.growing.finding import (
    FISH,
    PEOPLE,
    Band,
    Finding,
    Missing,
    Reckoning,
    also,
    both,
    figure,
    finding,
    reference,
)
from waterleaf.working.steps import Working

BASES: Final = (
    "Strong bases burn eyes and skin at once. Only a trained person doses, with goggles, gloves, apron and dust mask. "
    "Base into water, never water onto base. Keep it from acid, chlorine and aluminium. Label, safety data sheet and "
    "the school's rules come first. Watch the pH: as it rises, more of the ammonia turns harmful."
)
_MAINS: Final = (
    "Blower and pump hang on mains power beside water: ground-fault device (GFCI, RCD), drip loops, dry hands. Unplug "
    "before you reach in."
)
_COURSE: Final = "limit set for this course"
# The pump draws air when this part of the sump is gone.
SUMP_USED: Final = 0.8
NITRITE: Final = (
    "Nitrite binds to the blood, which turns brown and carries no more oxygen: fish gasp although the water is full of "
    "it. Salt shields some kinds, but harms the crop: ask whoever advises you on fish health."
)


def nitrite_limit(species: str) -> float:
    """Nitrite nitrogen beyond which a kind of fish is harmed [mg/L]; that of warm-water fish where it is not known."""
    return SPECIES[species].nitrite if species in SPECIES else 1.0


def nitrite_source(species: str) -> str:
    """Where the limit comes from, and how this kind of fish deals with nitrite."""
    told = f"{reference(NITRITE_LIMIT)}; taken as nitrogen, since it does not say"
    return f"{told}. {species.capitalize()}: {SPECIES[species].gills} ({reference(NITRITE_GILLS)})" if (
        species in SPECIES
    ) else told


def drain_down(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Whether the sump holds what comes down when the pump stops."""
    kinds = {bed.kind for bed in r.system.file.beds}
    needs = ["sump.area", "sump.freeboard", "pipes.drain"]
    needs += ["beds.raft_area", "beds.raft_fall"] if "raft" in kinds else []
    needs += ["beds.media_area", "beds.media_fall", "beds.media_void"] if "media" in kinds else []
    r.need(*needs)
    raft: Working | float = (
        r.of("raft_drain_down", bed_plan="beds.raft_area", level_fall="beds.raft_fall")
        if "raft" in kinds and r.value("beds.raft_fall") > 0 else 0.0
    )
    media: Working | float = (
        r.of("media_drain_down", bed_plan="beds.media_area", wet_depth="beds.media_fall", void_share="beds.media_void")
        if "media" in kinds and r.value("beds.media_fall") > 0 else 0.0
    )
    down = r.of("drain_down_volume", raft_drain=raft, media_drain=media, pipe_drain="pipes.drain")
    free = r.of("free_sump_volume", sump_area="sump.area", freeboard="sump.freeboard")
    spare = r.of("spare_sump_volume", free_volume=free, drain_down=down)
    reserve = 0.1 * float(free.value)
    return finding(
        r, key, title, harms, spare, Band(reserve, None, f"{_COURSE}: a tenth of the free volume stays", worst_low=0),
        shown=f"{both(float(down.value), 'L')} come down, room for "
        f"{both(float(free.value), 'L')}", says={
            "fine": "The sump holds all that comes down.",
            "below": "The sump runs over when the pump stops, or nearly so. Raise the standpipes a little, lower the "
            "sump's running level, or fit a larger sump.",
        },
        caution="Water on the floor comes near plugs and makes it slippery, and the pump then starts dry. Find the "
        "way of the water before the next power cut. " + _MAINS,
    )


def reserve(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """How many days the sump lasts when nobody tops up; the pump draws air when four fifths of it are gone."""
    r.need("sump.volume", "water.new_water")
    usable, daily = SUMP_USED * r.value("sump.volume"), r.value("water.new_water")
    if daily <= 0:
        raise Missing(("water.new_water above zero",))
    days = r.times(usable, daily)
    return finding(
        r, key, title, harms, days, Band(2, None, f"{_COURSE}: a weekend without topping up", worst_low=1),
        band_text=f"at least {figure(2, 'day')}",
        shown=f"{both(usable, 'L')} before the pump draws air, "
        f"{figure(float(days.value), 'day', 2)} of new water", says={
            "fine": "A day without topping up does not run the pump dry.",
            "below": "The sump is small for what leaves in a day. Fit a float valve or a larger sump, and a switch "
            "that stops a pump without water.",
        }, caution="A pump that draws air stops the oxygen that comes with the water, and the filter, and it burns "
        "out. " + _MAINS,
    )


def reading(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """The day's lowest oxygen against what the fish need."""
    r.need("water.oxygen", "water.temperature", "site.altitude")
    saturation = r.of("oxygen_saturation_at_altitude", temperature="water.temperature", altitude="site.altitude")
    share = r.of("percent_saturation", oxygen="water.oxygen", saturation=saturation)
    low, now = r.value("oxygen.held"), r.value("water.oxygen")
    return finding(
        r, key, title, harms, share, Band(low, None, "the limit is listed among the assumed values", worst_low=low - 1),
        judge=now, band_text=f"at least {figure(low, 'mg/L')} in any tank, at any hour",
        shown=f"{figure(now, 'mg/L')}, {figure(float(share.value), '%')} of saturation", says={
            "fine": "Enough oxygen at the lowest reading.",
            "below": "Too little oxygen. Stop feeding, add air now, and look for the cause.",
        }, caution="Fish die of this first and fastest. Check the blower, its stones and the pump tonight. " + _MAINS,
    )


def aeration(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """What the aerator brings against what is used."""
    r.need("feed.daily", "aeration.standard_rate", "water.temperature")
    demand = r.of("oxygen_demand_of_feed", daily_feed="feed.daily", oxygen_per_feed="oxygen.per_feed")
    saturation = r.of("oxygen_saturation", temperature="water.temperature")
    factor = r.of(
        "field_factor", transfer_ratio="oxygen.transfer_ratio", saturation_ratio="oxygen.saturation_ratio",
        transfer_base="oxygen.transfer_base", temperature="water.temperature", clean_saturation=saturation,
        held_oxygen="oxygen.held",
    )
    rate = r.of("field_transfer_rate", standard_rate="aeration.standard_rate", field_factor=factor)
    brought = float(rate.value) * 24_000  # kilograms an hour as grams a day
    margin = r.times(brought, float(demand.value))
    return finding(
        r, key, title, harms, margin, Band(
            2, None, f"{reference(cite('trade', 'use may double in the hours after a meal', 'common practice'))}",
            worst_low=1.2,
        ), shown=f"{figure(brought, 'g')} a day brought{also(brought, 'g/day')}, "
        f"{figure(float(demand.value), 'g')} used{also(float(demand.value), 'g/day')}",
        band_text="at least 2 times the day's mean", says={
            "fine": "Air enough, also after a meal.",
            "below": "Too little air for the hours after a meal. Clean the stones, feed smaller meals, add a blower.",
        }, caution="A blower that just suffices is too small on a hot night: fish can die before morning. " + _MAINS,
    )


def ammonia(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """The harmful part of the ammonia that was measured."""
    worked = r.of(
        "un_ionised_ammonia", total_ammonia="water.ammonia", temperature="water.temperature", ph="water.ph"
    )
    source = f"{reference(cite('ifas_fa16', 'harm at 0.05 mg/L'))}; {_COURSE}"
    return finding(r, key, title, harms, worked, Band(None, 0.025, source, worst_high=0.05), says={
        "fine": "Little of the ammonia is in the harmful form.",
        "above": "Harmful ammonia. Stop feeding, add no base, exchange water of the same warmth, and test again in "
        "some hours.",
    }, caution="Above 0.05 mg/L gills are harmed. Raising the pH now makes it worse within the hour.")


def nitrite(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """The nitrite that was measured, against what the fish bear."""
    if not r.given("water.nitrite"):
        raise Missing(("water.nitrite",))
    fish = r.system.file.fish
    species = fish.species if fish else ""
    worst, now = nitrite_limit(species), r.value("water.nitrite")
    ion = r.of("nitrite_as_ion", nitrite_nitrogen="water.nitrite")
    band = Band(None, worst / 2, f"half of it, {_COURSE}; {nitrite_source(species)}", worst_high=worst)
    return finding(
        r, key, title, harms, ion, band, judge=now, band_text=f"at most {figure(worst / 2, 'mg/L')} as nitrogen",
        shown=f"{figure(now, 'mg/L')} as nitrogen, {figure(float(ion.value), 'mg/L')} as the whole ion", says={
            "fine": "The second step of the filter keeps up.",
            "above": "Nitrite. Stop feeding, add air, exchange water of the same warmth, and test every day. A filter "
            "that is new, cold, washed too clean or overfed lets it through.",
        }, caution=NITRITE,
    )


def filter_capacity(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Feed whose ammonia media and rafts can turn into nitrate, against the feed given."""
    r.need("feed.daily", "feed.protein")
    if not r.known("filter.media_volume") and not r.known("beds.raft_area"):
        raise Missing(("filter.media_volume", "filter.specific_surface", "beds of kind raft"))
    made = r.of("ammonia_production", daily_feed="feed.daily", protein="feed.protein")
    daily, parts, total = r.value("feed.daily"), [], 0.0
    last = made
    if r.known("filter.media_volume"):
        r.need("filter.specific_surface")
        per_kilogram = 1000 * float(made.value) / daily
        last = r.of(
            "feed_supported_by_media", media_volume="filter.media_volume", specific_surface="filter.specific_surface",
            removal_rate="filter.removal", ammonia_per_feed=per_kilogram,
        )
        parts.append(f"media carry {both(float(last.value), 'g')} of feed")
        total += float(last.value)
    if r.known("beds.raft_area"):
        last = r.of("daily_feed", bed_area="beds.raft_area", feed_ratio="filter.raft_capacity")
        parts.append(f"rafts {both(float(last.value), 'g')}, a reserve")
        total += float(last.value)
    media = total - (float(last.value) if r.known("beds.raft_area") else 0)
    margin = r.times(total, daily)
    # Published figures for rafts differ tenfold, so a system that leans on them alone is worth a look.
    judged = 1.5 if media >= daily else min(1.4, total / daily) if total >= daily else total / daily
    return finding(
        r, key, title, harms, margin, Band(1.5, None, f"{_COURSE}; see the lesson on chemistry", worst_low=1),
        judge=judged, band_text="media that carry the day's feed alone",
        shown=f"{' and '.join(parts)}; fed are {both(daily, 'g')}", says={
            "fine": "The media carry the feed, with the rafts as a reserve.",
            "below": "The media alone do not carry the feed. Published figures for rafts differ tenfold, so test "
            "ammonia and nitrite often, and do not raise the feed.",
        }, caution="If ammonia or nitrite rises, cut the feed that day; fish are harmed before they look ill.",
    )


def alkalinity(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Base for the day: what nitrification uses up, and what the wished level still lacks."""
    r.need("feed.daily", "feed.protein", "water.alkalinity", "water.wished_alkalinity", "system.volume")
    made = r.of("ammonia_production", daily_feed="feed.daily", protein="feed.protein")
    used = r.of("nitrification_alkalinity", nitrified=made)
    now, wish = r.value("water.alkalinity"), r.value("water.wished_alkalinity")
    total = float(used.value)
    if now < wish:
        raised = r.of(
            "alkalinity_to_add", wished_alkalinity="water.wished_alkalinity", present_alkalinity="water.alkalinity",
            system_volume="system.volume", raising_days="water.raising_days",
        )
        total += float(raised.value)
    share = r.value("bases.potash_share")
    potash = r.of("potassium_hydroxide_dose", alkalinity_demand=total, base_share="bases.potash_share")
    lime = r.of("calcium_hydroxide_dose", alkalinity_demand=total, base_share=100 - share) if share < 100 else None
    dose = f"{both(float(potash.value), 'g/day')} of potassium hydroxide"
    dose += f" and {both(float(lime.value), 'g/day')} of calcium hydroxide" if lime else ""
    found = finding(
        r, key, title, harms, used, Band(wish, None, "the level wished for in the file", worst_low=wish / 2),
        judge=now, band_text=f"at least {figure(wish, 'mg/L')}, as wished",
        shown=f"{figure(now, 'mg/L')} now; add {both(total, 'g/day')} as calcium carbonate",
        says={
            "fine": f"The water is buffered. To hold it: {dose}, both as pure bases. The pH test says when to stop.",
            "below": f"Low. Raise it slowly with {dose}, both as pure bases, and test every day.",
        }, caution=BASES,
    )
    # The dose is handed out at any level, so the caution goes with it.
    return found if found.caution else type(found)(**{**vars(found), "caution": BASES})


CHECKS: Final[tuple[Check, ...]] = (
    ("oxygen", "Oxygen", FISH, reading),
    ("aeration", "Aeration margin", FISH, aeration),
    ("ammonia", "Harmful ammonia", FISH, ammonia),
    ("nitrite", "Nitrite", FISH, nitrite),
    ("drain_down", "Drain-down against the sump", PEOPLE, drain_down),
    ("reserve", "Water in reserve", FISH, reserve),
    ("filter", "Nitrification capacity", FISH, filter_capacity),
    ("alkalinity", "Alkalinity to add", PEOPLE, alkalinity),
)
