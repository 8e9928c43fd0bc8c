"""What a screw carries sideways: the yield equations of NDS 2018 section 12.3, and with a gap those of AWC TR12.

All results are allowable-stress reference values for one fastener; multiply by the factors of `factors.py`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bossage.fasteners.factors import FULL_PENETRATION_DIAMETERS, penetration_factor
from bossage.fasteners.gauges import WoodScrew
from bossage.fasteners.units import INCH_MM, PSI_MPA
from bossage.ranges import within

_QUARTER_INCH_MM = 0.25 * INCH_MM
_SEEN_AS_EQUAL_MM = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Reduction:
    """R_d of NDS 2018 Table 12.3.1B: for modes I, for mode II, for modes III and IV."""

    one: float
    two: float
    three: float


@dataclass(frozen=True, slots=True, kw_only=True)
class YieldModes:
    """The six ways in which a single-shear joint yields, each over its reduction term, N."""

    Im_n: float
    Is_n: float
    II_n: float
    IIIm_n: float
    IIIs_n: float
    IV_n: float

    @property
    def by_name(self) -> dict[str, float]:
        """Mode name as the NDS writes it, and its value."""
        return {
            "Im": self.Im_n,
            "Is": self.Is_n,
            "II": self.II_n,
            "IIIm": self.IIIm_n,
            "IIIs": self.IIIs_n,
            "IV": self.IV_n,
        }

    @property
    def governing(self) -> str:
        """The mode with the least value."""
        return min(self.by_name, key=self.by_name.__getitem__)

    @property
    def z_n(self) -> float:
        """Reference lateral value Z of the joint in single shear."""
        return min(self.by_name.values())

    @property
    def double_shear_n(self) -> float:
        """Z where two like side members hold the main one between them; modes II and IIIm cannot occur."""
        return min(self.Im_n, 2 * self.Is_n, 2 * self.IIIs_n, 2 * self.IV_n)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewLateral:
    """Lateral reference value of one wood screw, with everything that made it up."""

    modes: YieldModes
    penetration_factor: float
    z_n: float
    basis: tuple[str, ...]


def dowel_bearing_mpa(gravity: float, diameter_mm: float, angle_deg: float = 90.0) -> float:
    """Dowel bearing strength of wood, F_e, rounded to 50 psi as the printed table is.

    Args:
        gravity: Oven-dry specific gravity of the member, 0.31 to 0.73.
        diameter_mm: Nominal fastener diameter, 1 to 25.4 mm.
        angle_deg: Load against grain, 0 to 90°; only counts from 1/4 in up.

    Returns:
        MPa. In between, Hankinson's formula joins the values along and across the grain.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Boards, which the NDS lists by an equivalent gravity; metal, which is passed in as its own strength.

    Source:
        NDS 2018 Table 12.3.3 footnote 2 and Eq. 12.3-11 (the equations read in a public transcription).
    """
    G = within("Specific gravity", gravity, 0.31, 0.73, "(ratio)", "Use the oven-dry value of the NDS group.")
    D = within("Fastener diameter", diameter_mm, 1, 25.4, "mm") / INCH_MM
    theta = math.radians(within("Angle to the grain", angle_deg, 0, 90, "°"))
    if diameter_mm < _QUARTER_INCH_MM:
        return _to_50_psi(16600 * G**1.84) * PSI_MPA
    along, across = _to_50_psi(11200 * G), _to_50_psi(6100 * G**1.45 / math.sqrt(D))
    return along * across / (along * math.sin(theta) ** 2 + across * math.cos(theta) ** 2) * PSI_MPA


def reduction_terms(yield_mm: float, nominal_mm: float, angle_deg: float = 90.0) -> Reduction:
    """Reduction terms R_d.

    Args:
        yield_mm: Diameter used in the yield equations: the root of a wood or lag screw, 1 to 25.4 mm.
        nominal_mm: Nominal diameter, not below `yield_mm`, up to 25.4 mm.
        angle_deg: Largest angle of load to grain in any member, 0 to 90°; only counts from 1/4 in up.

    Returns:
        One value for all modes below 1/4 in, else three.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Nothing known. A published double-shear example takes K_D from the shank (2.4 for a number 10); Table 12L is
        only reproduced from the root (2.2), which is what is done here.

    Source:
        NDS 2018 Table 12.3.1B (read).
    """
    D_mm = within("Yield diameter", yield_mm, 1, 25.4, "mm")
    nominal = within("Nominal diameter", nominal_mm, D_mm - _SEEN_AS_EQUAL_MM, 25.4, "mm")
    K_theta = 1 + 0.25 * within("Angle to the grain", angle_deg, 0, 90, "°") / 90
    if D_mm < _QUARTER_INCH_MM:
        D = D_mm / INCH_MM
        K_D = 2.2 if D <= 0.17 else 10 * D + 0.5
        term = K_D if nominal < _QUARTER_INCH_MM else K_D * K_theta
        return Reduction(one=term, two=term, three=term)
    return Reduction(one=4 * K_theta, two=3.6 * K_theta, three=3.2 * K_theta)


def yield_modes(
    *,
    diameter_mm: float,
    main_mm: float,
    side_mm: float,
    main_bearing_mpa: float,
    side_bearing_mpa: float,
    bending_yield_mpa: float,
    reduction: Reduction,
    gap_mm: float = 0.0,
) -> YieldModes:
    """The six yield modes of one fastener in single shear.

    Args:
        diameter_mm: Diameter for yielding, D: the root of a threaded fastener, above 0 mm.
        main_mm: Bearing length in the member that holds the tip, l_m, above 0 mm.
        side_mm: Bearing length in the member under the head, l_s, above 0 mm.
        main_bearing_mpa: Dowel bearing strength there, F_em, above 0 MPa.
        side_bearing_mpa: Dowel bearing strength there, F_es, above 0 MPa.
        bending_yield_mpa: Bending yield strength of the fastener, F_yb, above 0 MPa.
        reduction: Terms R_d, from `reduction_terms`.
        gap_mm: Room between the members that bears nothing, 0 mm or more. Plasterboard is such a gap.

    Returns:
        All six modes over their terms, N.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Friction, the pull that a bent screw picks up, and any help from what fills the gap: low on purpose.

    Source:
        NDS 2018 Table 12.3.1A (read). With a gap: AWC Technical Report 12 (2015) Table 1-1, general dowel equations,
        from memory; that plasterboard is taken as a gap by them, and that they equal the NDS at no gap, was read in an
        engineering note of a connector maker, and the latter is tested.
    """
    D = within("Fastener diameter", diameter_mm, 0.5, 50, "mm")
    l_m = within("Bearing length in the main member", main_mm, 0.01, 1000, "mm")
    l_s = within("Bearing length in the side member", side_mm, 0.01, 1000, "mm")
    F_em = within("Dowel bearing strength of the main member", main_bearing_mpa, 0.1, 5000, "MPa")
    F_es = within("Dowel bearing strength of the side member", side_bearing_mpa, 0.1, 5000, "MPa")
    F_yb = within("Bending yield strength", bending_yield_mpa, 10, 5000, "MPa")
    g = within("Gap", gap_mm, 0, 500, "mm")
    if g == 0:
        II, IIIm, IIIs, IV = _closed_yields_n(D, l_m, l_s, F_em, F_es, F_yb)
    else:
        II, IIIm, IIIs, IV = _gapped_yields_n(D, l_m, l_s, F_em, F_es, F_yb, g)
    return YieldModes(
        Im_n=D * l_m * F_em / reduction.one,
        Is_n=D * l_s * F_es / reduction.one,
        II_n=II / reduction.two,
        IIIm_n=IIIm / reduction.three,
        IIIs_n=IIIs / reduction.three,
        IV_n=IV / reduction.three,
    )


def wood_screw_lateral(
    screw: WoodScrew,
    *,
    side_mm: float,
    penetration_mm: float,
    main_gravity: float,
    side_gravity: float,
    gap_mm: float = 0.0,
    side_bearing_mpa: float | None = None,
) -> ScrewLateral:
    """Lateral reference value of one wood screw through a side member into the side grain of a main member.

    Args:
        screw: The screw.
        side_mm: Thickness of the member under the head, above 0 mm.
        penetration_mm: Depth in the main member, tip included; at least six shank diameters.
        main_gravity: Oven-dry specific gravity of the main member, 0.31 to 0.73.
        side_gravity: The same of the side member.
        gap_mm: Plasterboard or air between them, 0 mm or more.
        side_bearing_mpa: Bearing strength of a side member that is no wood (steel of NDS Table 12M: 426 MPa).

    Returns:
        The value and what made it up. Below ten diameters the lesser of the two ways that the NDS knows is taken: the
        ten-diameter value times p/10D, and the yield equations with the tip's half taken off the depth.

    Raises:
        OutOfRange: Less than six diameters deep, or an argument outside its range.

    Leaves out:
        End grain (times 0.67), duration, wet service, spacing; see `factors.py`.

    Source:
        NDS 2018 12.3.1, 12.3.5.3 (tip of two diameters), 12.3.7 (root diameter), 12.1.5.6; Table 12L.
    """
    share = penetration_factor(penetration_mm, screw.shank_mm)
    F_em = dowel_bearing_mpa(main_gravity, screw.shank_mm)
    F_es = side_bearing_mpa if side_bearing_mpa is not None else dowel_bearing_mpa(side_gravity, screw.shank_mm)
    reduction = reduction_terms(screw.root_mm, screw.shank_mm)

    def at_depth(main_mm: float) -> YieldModes:
        return yield_modes(
            diameter_mm=screw.root_mm,
            main_mm=main_mm,
            side_mm=side_mm,
            main_bearing_mpa=F_em,
            side_bearing_mpa=F_es,
            bending_yield_mpa=screw.bending_yield_mpa,
            reduction=reduction,
            gap_mm=gap_mm,
        )

    modes = at_depth(FULL_PENETRATION_DIAMETERS * screw.shank_mm)
    z_n = modes.z_n * share
    if share < 1:
        # The tip is two diameters long and half of it does not bear (12.3.5.3).
        z_n = min(z_n, at_depth(penetration_mm - screw.shank_mm).z_n)
    basis = [f"NDS 2018 yield mode {modes.governing} on the root diameter"]
    if share < 1:
        basis.append(f"penetration {penetration_mm / screw.shank_mm:.1f} diameters of ten: factor {share:.2f}")
    if gap_mm > 0:
        basis.append("the gap between the members bears nothing (general dowel equations, from memory)")
    return ScrewLateral(modes=modes, penetration_factor=share, z_n=z_n, basis=tuple(basis))


def _closed_yields_n(
    D: float, l_m: float, l_s: float, F_em: float, F_es: float, F_yb: float
) -> tuple[float, float, float, float]:
    """Modes II, IIIm, IIIs and IV without a gap, before R_d; symbols of NDS Table 12.3.1A."""
    R_e, R_t = F_em / F_es, l_m / l_s
    k_1 = (math.sqrt(R_e + 2 * R_e**2 * (1 + R_t + R_t**2) + R_t**2 * R_e**3) - R_e * (1 + R_t)) / (1 + R_e)
    k_2 = -1 + math.sqrt(2 * (1 + R_e) + 2 * F_yb * (1 + 2 * R_e) * D**2 / (3 * F_em * l_m**2))
    k_3 = -1 + math.sqrt(2 * (1 + R_e) / R_e + 2 * F_yb * (2 + R_e) * D**2 / (3 * F_em * l_s**2))
    return (
        k_1 * D * l_s * F_es,
        k_2 * D * l_m * F_em / (1 + 2 * R_e),
        k_3 * D * l_s * F_em / (2 + R_e),
        D**2 * math.sqrt(2 * F_em * F_yb / (3 * (1 + R_e))),
    )


def _gapped_yields_n(
    D: float, l_m: float, l_s: float, F_em: float, F_es: float, F_yb: float, g: float
) -> tuple[float, float, float, float]:
    """The same with a gap: P solves A P² + B P + C = 0; symbols of AWC TR12 Table 1-1."""
    q_m, q_s = F_em * D, F_es * D
    M = F_yb * D**3 / 6  # plastic moment of the round section, the same in both members
    return (
        _root(1 / (4 * q_s) + 1 / (4 * q_m), l_s / 2 + g + l_m / 2, -q_s * l_s**2 / 4 - q_m * l_m**2 / 4),
        _root(1 / (2 * q_s) + 1 / (4 * q_m), g + l_m / 2, -M - q_m * l_m**2 / 4),
        _root(1 / (4 * q_s) + 1 / (2 * q_m), l_s / 2 + g, -q_s * l_s**2 / 4 - M),
        _root(1 / (2 * q_s) + 1 / (2 * q_m), g, -2 * M),
    )


def _root(A: float, B: float, C: float) -> float:
    # This form of the positive root keeps its digits where B is large, that is where the gap is wide.
    return -2 * C / (B + math.sqrt(B**2 - 4 * A * C))


def _to_50_psi(psi: float) -> float:
    return 50 * math.floor(psi / 50 + 0.5)
