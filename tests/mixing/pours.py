"""Liquids as bars pour them, for the laws of mixing."""

from hypothesis import strategies as st

from menugen.mixing import ICE_KINDS, VERBS, Liquid, Step, liquid_from_label, scaled

shares = st.floats(0.0, 1.0, allow_subnormal=False)


@st.composite
def labelled(draw, *, most_abv=96.0, most_sugar=800.0, most_ml=250.0):
    """Draw a pour with any strength and as much sugar, acid and fat as leaves it room."""
    abv = draw(st.one_of(st.just(0.0), st.floats(0.1, most_abv, allow_subnormal=False)))
    room = 1.0 - abv / 100
    sugar = min(most_sugar, draw(shares) * room * 1400.0)
    few = sugar < 400 * room
    return liquid_from_label(
        draw(st.floats(0.5, most_ml)),
        abv,
        sugar_g_per_l=sugar,
        acid_g_per_l=draw(shares) * 60.0 * room if few else 0.0,
        fat_g_per_l=draw(shares) * 100.0 * room if few else 0.0,
    )


@st.composite
def anything(draw):
    """Any masses at all."""
    mass = st.floats(0.0, 500.0, allow_subnormal=False)
    return Liquid(*(draw(mass) for _ in range(6)))


def plain():
    """Spirit and water without sugar."""
    return st.builds(liquid_from_label, st.floats(1.0, 250.0), st.floats(0.0, 96.0, allow_subnormal=False))


def alcohol_free():
    return st.builds(
        lambda ml, sugar: liquid_from_label(ml, 0, sugar_g_per_l=sugar),
        st.floats(1.0, 250.0),
        st.floats(0.0, 900.0),
    )


def steps():
    step = st.builds(Step, st.sampled_from(VERBS), st.one_of(st.none(), st.floats(0.0, 180.0)))
    return st.lists(step, max_size=4)


ice_kinds = st.sampled_from(ICE_KINDS)


def doubled(liquids):
    return [scaled(liquid, 2.0) for liquid in liquids]
