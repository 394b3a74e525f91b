"""Every publication that the kit leans on, once, by key.

`found_at` names the stored copy that was actually read where it is not the publication itself; it is empty for
definitions and for works quoted from memory.
"""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Source:
    """A publication: who, when, what, where."""

    author: str
    year: str
    title: str
    where: str
    found_at: str = ""

    @property
    def short(self) -> str:
        """Author and year, as it stands in running text."""
        return f"{self.author} ({self.year})"

    @property
    def full(self) -> str:
        """The whole reference on one line."""
        return f"{self.author} ({self.year}). {self.title}. {self.where}."


SOURCES: Final[dict[str, Source]] = {
    "rakocy2007": Source(
        "Rakocy, J. E.", "2007", "Ten guidelines for aquaponic systems", "Aquaponics Journal 46, 14-17",
        "updocs.net/download/ten-guidelines-for-aquaponics-a5b39410eec563",
    ),
    "somerville2014": Source(
        "Somerville, C., Cohen, M., Pantanella, E., Stankus, A., Lovatelli, A.", "2014",
        "Small-scale aquaponic food production: integrated fish and plant farming",
        "FAO Fisheries and Aquaculture Technical Paper 589",
        "biblio.arktikfish.com/index.php/small-scale-aquaponic/3003-balancing",
    ),
    "rakocy2006": Source(
        "Rakocy, J. E., Masser, M. P., Losordo, T. M.", "2006",
        "Recirculating aquaculture tank production systems: aquaponics - integrating fish and plant culture",
        "Southern Regional Aquaculture Center, publication 454", "docsbay.net/doc/260944",
    ),
    "rakocy2004": Source(
        "Rakocy, J. E., Bailey, D. S., Shultz, R. C., Thoman, E. S.", "2004",
        "Update on tilapia and vegetable production in the UVI aquaponic system",
        "Proceedings of the sixth international symposium on tilapia in aquaculture, Manila",
        "docsbay.net/update-on-tilapia-and-vegetable-production-in-the-uvi-aquaponic-system",
    ),
    "hager2021": Source(
        "Hager, J., Bright, L. A., Dusci, J., Tidwell, J.", "2021",
        "Aquaponics production manual: a practical handbook for growers", "Kentucky State University",
        "docslib.org/doc/4698853",
    ),
    "trade": Source("Growers", "undated", "Common practice, no source", "rule of thumb of the trade"),
    "arithmetic": Source("Waterleaf", "2026", "Definition or plain arithmetic", "follows from the meaning of the words"),
    "stechey1990": Source(
        "Stechey, D., Trudell, Y.", "1990", "Aquaculture wastewater treatment: wastewater characterization",
        "Ontario Ministry of the Environment, as quoted in the article read",
        "atlantech.ca/public/articles/solidsproduction.html",
    ),
    "uvi2010": Source(
        "University of the Virgin Islands, Agricultural Experiment Station", "undated",
        "Aquaponic systems: application", "web page of the station",
        "uvi.edu/research/agricultural-experiment-station/aquaculture-home/aquaponic-systems/application.html",
    ),
    "gullian2013": Source(
        "Gullian-Klanian, M., Aramburu-Adame, C.", "2013",
        "Performance of Nile tilapia in a hyper-intensive recirculating aquaculture system with low water exchange",
        "Latin American Journal of Aquatic Research 41, 150-162", "cupdf.com",
    ),
    "student1908": Source(
        "Student", "1908", "The probable error of a mean", "Biometrika 6, 1-25", "",
    ),
    "welch1947": Source(
        "Welch, B. L.", "1947", "The generalization of 'Student's' problem when several different population variances "
        "are involved", "Biometrika 34, 28-35", "",
    ),
    "fisher1925": Source("Fisher, R. A.", "1925", "Statistical methods for research workers", "Oliver and Boyd", ""),
    "nist2012": Source(
        "NIST/SEMATECH", "2012", "e-Handbook of statistical methods and statistical reference datasets",
        "National Institute of Standards and Technology", "data files shipped in the scipy package",
    ),
    "dobson1983": Source(
        "Dobson, A. J.", "1983", "An introduction to statistical modelling (plant growth data)", "Chapman and Hall",
        "data file shipped in the pydataset package",
    ),
    "cohen1988": Source(
        "Cohen, J.", "1988", "Statistical power analysis for the behavioral sciences, second edition",
        "Lawrence Erlbaum", "",
    ),
    "gost_refractometer": Source(
        "GOST technical committee", "undated",
        "Refractometric determination of soluble solids: annex, table A.1, temperature correction of a laboratory "
        "refractometer", "interstate standard; number not visible in the copy read",
        "docs.cntd.ru/document/1200157922/titles/8OQ0LP",
    ),
    "oiv_as2_02": Source(
        "International Organisation of Vine and Wine", "undated",
        "Compendium of analysis methods: evaluation by refractometry, OIV-MA-AS2-02, table I", "OIV",
        "yumpu.com/en/document/view/12038601",
    ),
    "emerson1975": Source(
        "Emerson, K., Russo, R. C., Lund, R. E., Thurston, R. V.", "1975",
        "Aqueous ammonia equilibrium calculations: effect of pH and temperature",
        "Journal of the Fisheries Research Board of Canada 32, 2379-2383",
        "equation as quoted on a growers' forum, reptileco.com",
    ),
    "ifas_fa16": Source(
        "University of Florida, Institute of Food and Agricultural Sciences", "undated",
        "Ammonia, fact sheet FA16, with a table calculated from Emerson et al.", "University of Florida extension",
        "simplydiscus.com and knigalit.ru book2208697, page 50",
    ),
    "trussell1972": Source(
        "Trussell, R. P.", "1972",
        "The percent un-ionized ammonia in aqueous ammonia solutions at different pH levels and temperatures",
        "Journal of the Fisheries Research Board of Canada 29, 1505-1507", "azmanual.top/manuals/596720, page 5",
    ),
    "epa2013": Source(
        "United States Environmental Protection Agency", "2013",
        "Aquatic life ambient water quality criteria for ammonia, freshwater", "EPA 822-R-13-001",
        "ae2s.com/newsletter/TheUpdate/Update2013/October/ammonia.html",
    ),
    "oregon2015": Source(
        "Oregon Department of Environmental Quality", "2015",
        "Ammonia criteria that adopt the federal recommendation of 2013, tables 30(a), 30(b) and 30(c)",
        "Oregon Administrative Rules 340-041-8033",
        "rdrr.io/github/jasonelaw/ORDEQWaterQualityCriteria, the state's equations and table entries as code",
    ),
    "south_dakota2009": Source(
        "State of South Dakota", "2009", "Total ammonia criteria, appendix A to chapter 74:51:01",
        "Administrative Rules of South Dakota", "legis.state.sd.us/rules/PrinterRule.aspx?Rule=74:51:01:0A",
    ),
    "ebeling2006": Source(
        "Ebeling, J. M., Timmons, M. B., Bisogni, J. J.", "2006",
        "Engineering analysis of the stoichiometry of photoautotrophic, autotrophic, and heterotrophic removal of "
        "ammonia-nitrogen in aquaculture systems", "Aquaculture 257, 346-358", "",
    ),
    "epa1975": Source(
        "United States Environmental Protection Agency", "1975", "Process design manual for nitrogen control",
        "EPA technology transfer", "search.library.wisc.edu/digital/ADYETE36DIW6EP8O",
    ),
    "iupac_weights": Source(
        "International Union of Pure and Applied Chemistry", "undated", "Standard atomic weights",
        "Commission on Isotopic Abundances and Atomic Weights", "values shipped in the periodictable package",
    ),
    "iupac_goldbook": Source(
        "International Union of Pure and Applied Chemistry", "1990",
        "Glossary of atmospheric chemistry terms: composition of pure air", "Pure and Applied Chemistry 62, 2167-2219",
        "goldbook.iupac.org/plain/C01214-plain.html",
    ),
    "si2019": Source(
        "International Bureau of Weights and Measures", "2019", "The International System of Units, ninth edition",
        "BIPM, Paris", "",
    ),
    "uvi_nutrients": Source(
        "University of the Virgin Islands, Agricultural Experiment Station", "undated", "Nutrients",
        "web page of the station", "rps.uvi.edu/AES/Aquaculture/nutrients.html",
    ),
    "losordo2000": Source(
        "Losordo, T. M., Hobbs, A. O.", "2000", "Using computer spreadsheets for water flow and biofilter sizing in "
        "recirculating aquaculture production systems", "Aquacultural Engineering 23, 95-102", "",
    ),
    "guerdat2010": Source(
        "Guerdat, T. C., Losordo, T. M., Classen, J. J., Osborne, J. A., DeLong, D. P.", "2010",
        "An evaluation of commercially available biological filters for recirculating aquaculture systems",
        "Aquacultural Engineering 42, 38-49", "",
    ),
    "rusten2006": Source(
        "Rusten, B., Eikebrokk, B., Ulgenes, Y., Lygren, E.", "2006",
        "Design and operations of the Kaldnes moving bed biofilm reactors", "Aquacultural Engineering 34, 322-331", "",
    ),
    "mediamatic": Source(
        "Mediamatic", "undated", "Page on dosing iron in the house's own fish-and-plant system", "web page", "mediamatic.net/en/page/233445",
    ),
    "standard_hardness": Source(
        "Internetchemie", "2016", "German degree of hardness", "chemistry lexicon",
        "internetchemie.info/chemie-lexikon/d/deutscher-haertegrad.php",
    ),
    "benson1984": Source(
        "Benson, B. B., Krause, D.", "1984",
        "The concentration and isotopic fractionation of oxygen dissolved in freshwater and seawater in equilibrium "
        "with the atmosphere", "Limnology and Oceanography 29, 620-632",
        "rdrr.io/cran/SWMPr and rdrr.io/github/mtalluto/NSmetabolism, the equations as code, by their numbers",
    ),
    "apha1985": Source(
        "American Public Health Association", "1985",
        "Standard methods for the examination of water and wastewater: oxygen, dissolved, method 4500-O",
        "APHA, Washington", "swatplus.gitbook.io/io-docs, oxygen saturation concentration",
    ),
    "chapra_oxygen": Source(
        "Chapra, S. C.", "undated", "Numerical methods: data set of oxygen saturation after the APHA", "McGraw-Hill",
        "homework files in public repositories",
    ),
    "en25814": Source(
        "European Committee for Standardization", "1992",
        "EN 25814: determination of dissolved oxygen, electrochemical probe method, table of saturation", "CEN",
        "manualslib.es/manual/67236, page 52",
    ),
    "altitude_table": Source(
        "Maker of an oxygen meter", "undated", "Oxygen saturation by temperature and altitude, manual of the meter",
        "printed manual", "manualslib.mx/manual/863015, page 13",
    ),
    "pressure_table": Source(
        "Maker of a colorimeter", "undated", "Oxygen saturation by temperature and pressure, manual of the instrument",
        "printed manual", "easymanua.ls, page 16 of the manual",
    ),
    "wisconsin_bod": Source(
        "Wisconsin Department of Natural Resources", "undated", "Calibration for the biochemical oxygen demand test",
        "training slides", "dnr.wi.gov, BODCalibration2",
    ),
    "altitude_factors": Source(
        "Maker of an oxygen probe", "undated", "Table of pressure, altitude and correction factor",
        "printed manual", "manualsdir.com 596829, page 15",
    ),
    "boyd_oxygen": Source(
        "Boyd, C. E.", "undated", "Dissolved oxygen management in aquaculture", "Global Aquaculture Advocate",
        "2lua.vn, dissolved-oxygen-management-in-aquaculture",
    ),
    "boyd_demand": Source(
        "Boyd, C. E.", "undated", "Oxygen demand of aquaculture feed", "Global Aquaculture Advocate",
        "globalseafood.org/advocate/oxygen-demand-aquaculture-feed",
    ),
    "us_standard_atmosphere": Source(
        "NOAA, NASA, USAF", "1976", "U.S. Standard Atmosphere, 1976", "U.S. Government Printing Office",
        "scipp.ucsc.edu/outreach/balloon/atmos/1976 Standard Atmosphere.htm and crnslab.org/util/atmo.php",
    ),
    "wurts1994": Source(
        "Wurts, W. A., McNeill, S. G., Overhults, D. G.", "1994", "Performance and design characteristics of airlift "
        "pumps for field applications", "World Aquaculture 25(4), 51-54", "wurtswa22.blogspot.com/2015/12",
    ),
    "ali_airlift": Source(
        "Ali", "undated", "Airlift pumps of 5, 7.5 and 10 cm at submergences of 70 to 90 %", "study in Egypt",
        "fr.scribd.com/document/367302221",
    ),
    "air_handbooks": Source(
        "Makers of compressors", "undated", "Compressed-air handbooks: free air for an airlift by submergence",
        "printed handbooks", "",
    ),
    "timmons_ebeling": Source(
        "Timmons, M. B., Ebeling, J. M.", "undated", "Recirculating aquaculture", "Cayuga Aqua Ventures", "",
    ),
}
