"""Molar masses, each the sum of standard atomic weights: shared by the parts of chemistry and by air."""

from typing import Final

from waterleaf.calc.quantity import Constant, cite


def _mass(value: float, formula: str, name: str) -> Constant:
    return Constant(
        value, symbol=f"M_{formula}", unit="g/mol", name=f"molar mass of {name}",
        source=cite("iupac_weights", f"sum of the atomic weights in {formula}", "computed"),
    )


NITROGEN: Final = _mass(14.007, "N", "nitrogen")
OXYGEN: Final = _mass(31.998, "O2", "oxygen")
CARBON: Final = _mass(12.011, "C", "carbon")
CARBON_DIOXIDE: Final = _mass(44.009, "CO2", "carbon dioxide")
AMMONIA: Final = _mass(17.031, "NH3", "ammonia")
AMMONIUM_CHLORIDE: Final = _mass(53.489, "NH4Cl", "ammonium chloride")
NITRITE: Final = _mass(46.005, "NO2", "nitrite")
NITRATE: Final = _mass(62.004, "NO3", "nitrate")
CALCIUM_CARBONATE: Final = _mass(100.086, "CaCO3", "calcium carbonate")
CALCIUM_OXIDE: Final = _mass(56.077, "CaO", "calcium oxide")
POTASSIUM_HYDROXIDE: Final = _mass(56.1053, "KOH", "potassium hydroxide")
CALCIUM_HYDROXIDE: Final = _mass(74.092, "Ca(OH)2", "calcium hydroxide")
SODIUM_BICARBONATE: Final = _mass(84.0058, "NaHCO3", "sodium bicarbonate")
POTASSIUM_BICARBONATE: Final = _mass(100.1143, "KHCO3", "potassium bicarbonate")
POTASSIUM_CARBONATE: Final = _mass(138.2046, "K2CO3", "potassium carbonate")
POTASSIUM: Final = _mass(39.0983, "K", "potassium")
CALCIUM: Final = _mass(40.078, "Ca", "calcium")
MAGNESIUM: Final = _mass(24.305, "Mg", "magnesium")
