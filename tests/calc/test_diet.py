"""Diet: blends by square and by linear programme, fatty acids and labels."""

import itertools

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from waterleaf.calc.diet import blending as diet
from waterleaf.calc.diet import omega as diet_omega
from waterleaf.calc.quantity import OutOfRange

MANY = settings(max_examples=100, deadline=None)
percents = st.floats(0, 100)


@MANY
@given(low=st.floats(0, 40), high=st.floats(45, 100), place=st.floats(0.05, 0.95))
def test_square_hits_the_target(low: float, high: float, place: float) -> None:
    """The blend of the shares of the square has the wished content, and the table agrees with the relation."""
    target = low + place * (high - low)
    assume(0.5 <= target <= 99.5)
    share = diet.pearson_share(low_content=low, target=target, high_content=high)
    blend = diet.blend_content(first_share=share, first_content=high, second_content=low)
    assert blend == pytest.approx(target, rel=1e-9)
    rows = diet.pearson_square(low_content=low, target=target, high_content=high)
    assert [row.share for row in rows] == pytest.approx([share, 100 - share])
    assert rows[0].parts / rows[1].parts == pytest.approx(share / (100 - share), rel=1e-6)


def test_square_refuses_a_target_outside_its_ingredients() -> None:
    """Barley of 12 % and corn of 10 % never make 14 %."""
    with pytest.raises(OutOfRange, match="target: 14 percent does not lie between 10 and 12 percent"):
        diet.pearson_square(low_content=10.0, target=14.0, high_content=12.0)


@MANY
@given(share=percents, first=percents, second=percents)
def test_blend_of_two_is_the_blend_of_many(share: float, first: float, second: float) -> None:
    """Two ingredients give the same content by the formula and by masses, between the two contents."""
    pair = diet.blend_content(first_share=share, first_content=first, second_content=second)
    assert diet.content_of_blend(masses=[share, 100 - share], contents=[first, second]) == pytest.approx(pair, abs=1e-9)
    assert min(first, second) - 1e-9 <= pair <= max(first, second) + 1e-9


def test_blend_without_any_mass_is_refused() -> None:
    """All masses zero, or lists of unlike length, are refused by name."""
    with pytest.raises(OutOfRange, match="masses: all are zero"):
        diet.content_of_blend(masses=[0.0, 0.0], contents=[10.0, 45.0])
    with pytest.raises(OutOfRange, match=r"masses: the lists differ in length \(masses 2, contents 3\)"):
        diet.content_of_blend(masses=[1.0, 2.0], contents=[10.0, 45.0, 30.0])


@MANY
@given(
    low=st.floats(5, 15), high=st.floats(30, 60), target=st.floats(16, 29), cheap=st.floats(0.1, 0.5),
    dear=st.floats(0.6, 3),
)
def test_linear_programme_of_two_is_the_square(
    low: float, high: float, target: float, cheap: float, dear: float
) -> None:
    """With two ingredients, the richer one dearer, the cheapest blend is the Pearson square."""
    rows = diet.least_cost_blend(
        prices=[cheap, dear], contents=[[low, high]], least=[target], most=[100.0], largest_shares=[100.0, 100.0]
    )
    share = diet.pearson_share(low_content=low, target=target, high_content=high)
    assert rows[1].share == pytest.approx(share, abs=1e-6)
    price = diet.blend_price(first_share=share, first_price=dear, second_price=cheap)
    assert rows[-1].cost == pytest.approx(price, abs=1e-8)


PRICES = [0.30, 0.55, 1.40, 0.20]
CONTENTS = [[9.0, 44.0, 65.0, 15.0], [2.5, 6.0, 1.0, 11.0]]
LEAST, MOST = [32.0, 0.0], [100.0, 6.0]
LARGEST = [60.0, 50.0, 25.0, 40.0]


def blend_is_allowed(shares: tuple[float, ...]) -> bool:
    """Whether whole-percent shares keep every limit of the example."""
    values = [sum(s * c for s, c in zip(shares, row, strict=True)) / 100 for row in CONTENTS]
    return all(s <= m for s, m in zip(shares, LARGEST, strict=True)) and all(
        low <= value <= high for low, value, high in zip(LEAST, values, MOST, strict=True)
    )


def test_least_cost_blend_beats_every_blend_of_whole_percents() -> None:
    """Four ingredients, protein and fibre: no allowed blend of whole percents is cheaper, and one comes close."""
    rows = diet.least_cost_blend(
        prices=PRICES, contents=CONTENTS, least=LEAST, most=MOST, largest_shares=LARGEST
    )
    shares = [row.share for row in rows[:-1]]
    assert sum(shares) == pytest.approx(100)
    for nutrient, low, high in zip(CONTENTS, LEAST, MOST, strict=True):
        value = diet.content_of_blend(masses=shares, contents=nutrient)
        assert low - 1e-7 <= value <= high + 1e-7
    assert all(-1e-9 <= share <= largest + 1e-7 for share, largest in zip(shares, LARGEST, strict=True))
    costs = [
        sum(s * p for s, p in zip(shares, PRICES, strict=True)) / 100
        for first, second, third in itertools.product(range(61), range(51), range(26))
        if 0 <= (fourth := 100 - first - second - third) <= 40
        and blend_is_allowed(shares := (first, second, third, fourth))
    ]
    assert rows[-1].cost <= min(costs) + 1e-9
    assert min(costs) - rows[-1].cost < 0.02


def test_impossible_blend_is_refused() -> None:
    """Limits that no blend keeps, and lists of unlike length, are refused with what to do."""
    with pytest.raises(OutOfRange, match="no blend of these keeps every limit"):
        diet.least_cost_blend(
            prices=[0.3, 0.9], contents=[[10.0, 45.0]], least=[50.0], most=[100.0], largest_shares=[100.0, 100.0]
        )
    with pytest.raises(OutOfRange, match="the lists differ in length"):
        diet.least_cost_blend(
            prices=[0.3, 0.9], contents=[[10.0, 45.0, 60.0]], least=[14.0], most=[100.0], largest_shares=[100.0, 100.0]
        )


@pytest.mark.parametrize("omega3", [0.0, 0])
def test_no_omega3_means_no_ratio(omega3: float) -> None:
    """Spirulina of the published table has no omega-3: the ratio is refused, not called zero."""
    omega6 = diet_omega.fatty_acid_total(acids=[17.43, 8.87])
    with pytest.raises(OutOfRange, match=r"omega3: 0 percent .* the ratio has no value, it is not zero"):
        diet_omega.omega_ratio(omega6=omega6, omega3=omega3)
    with pytest.raises(OutOfRange, match="the ratio has no value"):
        diet_omega.omega_ratio_of_acids(omega6_acids=[17.43, 8.87], omega3_acids=[omega3])
    with pytest.raises(OutOfRange, match="the ratio has no value"):
        diet_omega.omega_ratio_of_oils(masses=[1.0, 1.0], omega6=[50.0, 26.3], omega3=[0.0, omega3])


def test_spirulina_makes_soybean_oil_worse() -> None:
    """Its gamma-linolenic acid is an omega-6: the more of its fat, the higher the ratio."""
    found = [
        diet_omega.blend_omega_ratio(
            first_share=share, first_omega6=50.3, first_omega3=6.54, second_omega6=26.30, second_omega3=0.0
        )
        for share in (100.0, 90.0, 80.0, 60.0)
    ]
    assert found == sorted(found)
    assert found[0] == pytest.approx(50.3 / 6.54)


@MANY
@given(
    share=percents, first=st.floats(10, 80), three=st.floats(0.5, 20), second=st.floats(0.5, 20),
    rich=st.floats(10, 60),
)
def test_ratio_of_a_blend_lies_between_those_of_its_oils(
    share: float, first: float, three: float, second: float, rich: float
) -> None:
    """Whatever the share, the ratio lies between the two, and the many-oil form agrees."""
    ratio = diet_omega.blend_omega_ratio(
        first_share=share, first_omega6=first, first_omega3=three, second_omega6=second, second_omega3=rich
    )
    low, high = sorted((first / three, second / rich))
    assert low * (1 - 1e-9) <= ratio <= high * (1 + 1e-9)
    together = diet_omega.omega_ratio_of_oils(
        masses=[share, 100 - share], omega6=[first, second], omega3=[three, rich]
    )
    assert together == pytest.approx(ratio, rel=1e-9)


def test_ratio_of_a_blend_is_not_the_mean_of_the_ratios() -> None:
    """Soybean with flaxseed oil: 1.92, while the mean of the two ratios is nearly three times as much."""
    ratio = diet_omega.blend_omega_ratio(
        first_share=70.0, first_omega6=50.3, first_omega3=6.54, second_omega6=14.3, second_omega3=53.4
    )
    mean = 0.7 * 50.3 / 6.54 + 0.3 * 14.3 / 53.4
    assert mean / ratio > 2.8


@MANY
@given(
    first=st.floats(30, 80), three=st.floats(0.2, 5), second=st.floats(0.5, 20), rich=st.floats(20, 70),
    place=st.floats(0.05, 0.95),
)
def test_second_oil_brings_the_blend_to_the_wished_ratio(
    first: float, three: float, second: float, rich: float, place: float
) -> None:
    """The share reckoned for a ratio between the oils gives that ratio."""
    low, high = second / rich, first / three
    wished = low + place * (high - low)
    assume(0.02 <= wished <= 100)
    share = diet_omega.second_oil_share(
        first_omega6=first, first_omega3=three, second_omega6=second, second_omega3=rich, wished_ratio=wished
    )
    assert 0 <= share <= 100
    ratio = diet_omega.blend_omega_ratio(
        first_share=100 - share, first_omega6=first, first_omega3=three, second_omega6=second, second_omega3=rich
    )
    assert ratio == pytest.approx(wished, rel=1e-6)


@MANY
@given(serving=st.floats(10, 500), fat=st.floats(0.5, 100), factor=st.floats(60, 100), acid=st.floats(0.1, 100))
def test_an_acid_in_a_serving_is_never_more_than_its_fat(
    serving: float, fat: float, factor: float, acid: float
) -> None:
    """Fat holds the fatty acids, which hold the acid; a whole fat of one acid is all of it."""
    fat_mass = diet_omega.fat_in_serving(serving=serving, fat=fat)
    acids = diet_omega.fatty_acids_in_fat(fat_mass=fat_mass, acids_in_fat=factor)
    part = diet_omega.fatty_acid_in_serving(serving=serving, fat=fat, acids_in_fat=factor, acid_share=acid)
    assert part <= acids * (1 + 1e-12) <= fat_mass * (1 + 1e-9)
    whole = diet_omega.fatty_acid_in_serving(serving=serving, fat=fat, acids_in_fat=factor, acid_share=100.0)
    assert whole == pytest.approx(acids, rel=1e-12)


@MANY
@given(label=st.floats(20, 5000), portion=st.floats(20, 300), wished=st.floats(0.1, 5))
def test_food_for_omega3_holds_it(label: float, portion: float, wished: float) -> None:
    """The food reckoned from a label holds the wished grams."""
    food = diet_omega.food_for_omega3(label_omega3=label, label_portion=portion, wished=wished)
    assert food / portion * label / 1000 == pytest.approx(wished, rel=1e-12)
