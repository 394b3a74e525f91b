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
}
