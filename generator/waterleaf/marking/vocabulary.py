"""The words for units: how students write what pint knows.

Each line is a pint expression, the way we write it back, and the spellings we accept. The second column is empty
where `working.units.written` already says it. How much a unit is worth is pint's business and stands nowhere here.
"""

from typing import Final

SPELLINGS: Final[tuple[tuple[str, str, str], ...]] = (
    # Mass
    ("g", "", "g, gr, gm, gms, gram, grams, gramme, grammes"),
    ("mg", "", "mg, mgs, milligram, milligrams, milligramme, milligrammes"),
    ("ug", "µg", "ug, mcg, microgram, micrograms, microgramme, microgrammes"),
    ("kg", "", "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes"),
    ("lb", "", "lb, lbs, pound, pounds"),
    ("oz", "", "oz, ounce, ounces"),
    ("metric_ton", "t", "t, tonne, tonnes, metric ton, metric tons, metric tonne, metric tonnes"),
    ("short_ton", "short ton", "short ton, short tons, US ton, US tons"),
    # Volume
    ("L", "", "L, l, ltr, ltrs, lt, litre, litres, liter, liters"),
    ("mL", "", "mL, ml, mls, cc, millilitre, millilitres, milliliter, milliliters"),
    ("cL", "", "cL, cl, centilitre, centilitres, centiliter, centiliters"),
    ("dL", "", "dL, dl, decilitre, decilitres, deciliter, deciliters"),
    ("hL", "", "hL, hectolitre, hectolitres, hectoliter, hectoliters"),
    ("kL", "", "kL, kilolitre, kilolitres, kiloliter, kiloliters"),
    ("uL", "µL", "uL, microlitre, microlitres, microliter, microliters"),
    ("gallon", "", "gal, gals, gall, gallon, gallons, US gal, US gals, US gallon, US gallons, U S gallon, U S gallons, "
     "gal US, gallon US, gallons US"),
    ("imperial_gallon", "imperial gal", "imp gal, imperial gal, imperial gallon, imperial gallons, UK gallon, "
     "UK gallons"),
    ("quart", "qt", "qt, qts, quart, quarts"),
    ("pint", "pt", "pt, pts, pint, pints"),
    ("cup", "", "cup, cups"),
    ("fluid_ounce", "fl oz", "fl oz, floz, fluid oz, fluid ounce, fluid ounces"),
    ("tablespoon", "tbsp", "tbsp, tablespoon, tablespoons"),
    ("teaspoon", "tsp", "tsp, teaspoon, teaspoons"),
    ("m^3", "", "cbm"),
    ("feet^3", "", "cf, cft, cuft"),
    # Length and area; square and cubic are words of the grammar
    ("um", "", "um, micron, microns, micrometre, micrometres, micrometer, micrometers"),
    ("mm", "", "mm, millimetre, millimetres, millimeter, millimeters"),
    ("cm", "", "cm, cms, centimetre, centimetres, centimeter, centimeters"),
    ("dm", "", "dm, decimetre, decimetres, decimeter, decimeters"),
    ("m", "", "m, metre, metres, meter, meters"),
    ("km", "", "km, kms, kilometre, kilometres, kilometer, kilometers"),
    ("inch", "", 'in, ins, inch, inches, "'),
    ("feet", "", "ft, foot, feet, '"),
    ("yard", "yd", "yd, yds, yard, yards"),
    ("mile", "", "mile, miles"),
    ("m^2", "", "sqm"),
    ("feet^2", "", "sf, sft, sqft"),
    ("hectare", "ha", "ha, hectare, hectares"),
    ("acre", "", "acre, acres"),
    # Time
    ("s", "", "s, sec, secs, second, seconds"),
    ("min", "", "min, mins, minute, minutes"),
    ("hour", "", "h, hr, hrs, hour, hours"),
    ("day", "", "d, day, days"),
    ("week", "", "wk, wks, week, weeks"),
    ("fortnight", "", "fortnight, fortnights"),
    ("month", "", "mo, month, months"),
    ("year", "", "y, yr, yrs, year, years, annum"),
    ("1/hour", "/h", "hourly"),
    ("1/day", "/day", "daily"),
    ("1/week", "/week", "weekly"),
    ("1/month", "/month", "monthly"),
    ("1/year", "/year", "yearly, annually"),
    # Flow
    ("gallon/min", "", "gpm"),
    ("gallon/hour", "", "gph"),
    ("gallon/day", "", "gpd"),
    ("L/s", "", "lps"),
    ("L/min", "", "lpm"),
    ("L/hour", "", "lph"),
    ("feet^3/min", "", "cfm"),
    # Energy and power
    ("J", "", "J, joule, joules"),
    ("mJ", "", "mJ, millijoule, millijoules"),
    ("kJ", "", "kJ, kilojoule, kilojoules"),
    ("MJ", "", "MJ, megajoule, megajoules"),
    ("Wh", "", "Wh, watt hour, watt hours"),
    ("kWh", "", "kWh, kWhr, kWhrs, kilowatt hour, kilowatt hours"),
    ("MWh", "", "MWh, megawatt hour, megawatt hours"),
    ("calorie", "cal", "cal"),
    ("kcal", "", "kcal, kilocalorie, kilocalories"),
    ("BTU", "", "BTU, BTUs"),
    ("W", "", "W, watt, watts"),
    ("mW", "", "mW, milliwatt, milliwatts"),
    ("kW", "", "kW, kilowatt, kilowatts"),
    ("MW", "", "MW, megawatt, megawatts"),
    ("horsepower", "hp", "hp, horsepower"),
    # Pressure
    ("Pa", "", "Pa, pascal, pascals"),
    ("mPa", "", "mPa, millipascal, millipascals"),
    ("hPa", "", "hPa, hectopascal, hectopascals"),
    ("kPa", "", "kPa, kilopascal, kilopascals"),
    ("MPa", "", "MPa, megapascal, megapascals"),
    ("centipoise", "cP", "cP, centipoise"),
    ("mbar", "", "mbar, mbars, millibar, millibars"),
    ("bar", "", "bar, bars"),
    ("psi", "", "psi"),
    ("atm", "", "atm, atmosphere, atmospheres"),
    ("mmHg", "", "mmHg, mm Hg"),
    # Amount of substance, light, conductivity
    ("mol", "", "mol, mols, mole, moles"),
    ("mmol", "", "mmol, mmols, millimole, millimoles"),
    ("umol", "µmol", "umol, umols, micromol, micromols, micromole, micromoles"),
    ("meq", "", "meq, milliequivalent, milliequivalents"),
    ("lux", "", "lux, lx"),
    ("klux", "", "klux, klx, kilolux"),
    ("lux_hour", "lux·h", "lux_hour, lux hour, lux hours"),
    ("lumen", "lm", "lm, lumen, lumens"),
    ("S", "", "S, siemens"),
    ("dS", "", "dS, decisiemens"),
    ("mS", "", "mS, millisiemens"),
    ("uS", "µS", "uS, microsiemens"),
    # Temperature
    ("degC", "", "degC, °C, ° C, C, deg C, degs C, degree C, degrees C, Celsius, centigrade, ℃, deg Celsius, "
     "°Celsius, degree Celsius, degrees Celsius, degree centigrade, degrees centigrade"),
    ("degF", "", "degF, °F, ° F, F, deg F, degs F, degree F, degrees F, Fahrenheit, ℉, deg Fahrenheit, °Fahrenheit, "
     "degree Fahrenheit, degrees Fahrenheit"),
    ("delta_degC", "", "delta_degC"),
    ("delta_degF", "", "delta_degF"),
    ("K", "", "K, kelvin, kelvins"),
    # Shares
    ("percent", "", "%, percent, per cent, pct, percentage"),
    ("permille", "‰", "‰, permille, per mille"),
    ("ppm", "ppm", "ppm, ppms, parts per million"),
    ("ppm/1000", "ppb", "ppb, parts per billion"),
    ("permille", "ppt", "ppt, parts per thousand"),
    # Sugar
    ("degBx", "", "degBx, °Bx, ° Bx, Bx, °Brix, ° Brix, Brix, % Brix, deg Bx, deg Brix, degree Bx, degree Brix, "
     "degrees Bx, degrees Brix"),
    # Hardness, angle
    ("degdH", "", "degdH, °dH, ° dH, dH, deg dH, dGH, German degree, German degrees"),
    ("degree", "", "°, deg, degree, degrees"),
    # Money
    ("dollar", "", "$, dollar, dollars, USD, US$, US dollar, US dollars, bucks"),
    ("dollar/100", "cents", "¢, cent, cents"),
    # Number words
    ("12", "dozen", "dozen, dozens"),
    ("1000", "thousand", "thousand"),
    ("1000000", "million", "million"),
)

# Written out in the exact case only: folded, each would take the place of another unit or of none at all.
EXACT_CASE: Final = frozenset({"K", "S", "mJ", "mW", "MW", "mPa", "MPa"})

# Things that are counted. Each stands for a pure number, so "12", "12 fish" and "12 tilapia" are the same answer.
COUNTED: Final = (
    "fish, fishes, fingerling, fingerlings, tilapia, trout, plant, plants, head, heads, seed, seeds, seedling, "
    "seedlings, cutting, cuttings, transplant, transplants, lettuce, lettuces, tomato, tomatoes, fruit, fruits, "
    "leaf, leaves, stem, stems, bunch, bunches, worm, worms, egg, eggs, meal, meals, feeding, feedings, ration, "
    "rations, tree, trees, bag, bags, sack, sacks, bucket, buckets, bottle, bottles, box, boxes, crate, crates, tray, "
    "trays, pot, pots, tank, tanks, bed, beds, raft, rafts, tower, towers, tube, tubes, pipe, pipes, row, rows, hole, "
    "holes, cell, cells, site, sites, space, spaces, place, places, pump, pumps, air stone, air stones, lamp, lamps, "
    "crop, crops, batch, batches, harvest, harvests, cycle, cycles, turn, turns, turnover, turnovers, change, changes, "
    "time, times, pulse, pulses, person, persons, people, student, students, taster, tasters, panelist, panelists, "
    "panellist, panellists, serving, servings, order, orders, score, scores, point, points, sample, samples, "
    "reading, readings, replicate, replicates, block, blocks, plot, plots, pair, pairs, group, groups, trial, "
    "trials, x, count, counts, item, items, piece, pieces, pc, pcs, unit, units, fuel_unit, pH, pH unit, pH units"
)

# Words that say what was measured. They tell us nothing about the unit, so the judge reads past them.
FILLERS: Final = (
    "of, of a, of an, the, by, feed, food, water, air, oxygen, solids, biomass, body, bodyweight, bw, live, "
    "weight, mass, area, floor, growing, total, in total, in all, altogether, long, wide, deep, high, apiece, ea, "
    "exactly, worth"
)

# A substance may follow this filler under any name: "2.4 kg of salt".
SUBSTANCE_AFTER: Final = "of"

# Words that mean "divided by". The second list also closes a price: in "$2 each" there is nothing left to divide by.
PER: Final = ("per", "a", "an", "every", "each")
CLOSING: Final = ("each",)

PREFIX_POWERS: Final = {"square": 2, "sq": 2, "cubic": 3, "cu": 3}
SUFFIX_POWERS: Final = {"squared": 2, "cubed": 3}

# Words that could mean several units; the value names the message that asks which. Those that are listed above too are
# taken as listed where that fits the answer: "35°" is an angle where an angle is asked for.
VAGUE: Final = {
    "°": "which_degrees", "deg": "which_degrees", "degree": "which_degrees", "degrees": "which_degrees",
    "ton": "which_ton", "tons": "which_ton",
}

# A litre of water weighs close to a kilogram, so growers say ppm for mg/L. The judge takes it so where the answer is
# a concentration, and as a plain share everywhere else.
WATER_TWINS: Final = {
    "ppm": "mg/L", "ppms": "mg/L", "parts per million": "mg/L", "ppb": "ug/L", "parts per billion": "ug/L",
    "ppt": "g/L", "parts per thousand": "g/L",
}
