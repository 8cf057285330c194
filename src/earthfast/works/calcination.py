"""Carbon dioxide driven from limestone in making binders, and what a published carbon figure implies."""

from __future__ import annotations

from earthfast.estimate import FloatLike

MOLAR_MASS_CO2 = 44.0095  # g/mol
MOLAR_MASS_CAO = 56.0774
MOLAR_MASS_HYDRATE = 74.0927


def calcination_carbon_of_clinker(lime_fraction: FloatLike) -> FloatLike:
    """Carbon dioxide driven from limestone in making cement clinker.

    Parameters
    ----------
    lime_fraction : float or array
        CaO in clinker, by mass. [-]

    Returns
    -------
    carbon : float or array
        CO2 by mass of clinker, fuel and power not counted. [-]

    Notes
    -----
    f = w M(CO2) / M(CaO), with w = lime_fraction.

    References
    ----------
    ipcc_cement, tier 1 default of 64.6 % CaO [S]
    """
    return lime_fraction * MOLAR_MASS_CO2 / MOLAR_MASS_CAO


def calcination_carbon_of_quicklime(purity: FloatLike) -> FloatLike:
    """Carbon dioxide driven from limestone in making quicklime.

    Parameters
    ----------
    purity : float or array
        CaO in the product, by mass. [-]

    Returns
    -------
    carbon : float or array
        CO2 by mass of quicklime, fuel not counted. [-]

    Notes
    -----
    f = p M(CO2) / M(CaO).

    References
    ----------
    definition, stoichiometry [C]
    """
    return purity * MOLAR_MASS_CO2 / MOLAR_MASS_CAO


def calcination_carbon_of_hydrated_lime(purity: FloatLike) -> FloatLike:
    """Carbon dioxide driven from limestone in making hydrated lime.

    Parameters
    ----------
    purity : float or array
        Ca(OH)2 in the product, by mass. [-]

    Returns
    -------
    carbon : float or array
        CO2 by mass of hydrated lime, fuel not counted. [-]

    Notes
    -----
    f = p M(CO2) / M(Ca(OH)2).

    References
    ----------
    definition, stoichiometry [C]
    """
    return purity * MOLAR_MASS_CO2 / MOLAR_MASS_HYDRATE


def implied_dose(carbon_by_volume: FloatLike, dry_density: FloatLike, factor: FloatLike) -> FloatLike:
    """Cement dose that a published carbon of treated soil implies.

    Parameters
    ----------
    carbon_by_volume : float or array
        Claimed CO2 equivalent. [kg/m³]
    dry_density : float or array
        Dry soil in the layer. [kg/m³]
    factor : float or array
        Carbon by mass of cement. [-]

    Returns
    -------
    dose : float or array
        Cement over dry soil mass. [-]

    Notes
    -----
    c = C / (ρ f), with C, ρ, f in the order of the arguments. Shows whether a claim speaks of the usual dose.

    References
    ----------
    definition, mass balance [C]
    """
    return carbon_by_volume / (dry_density * factor)
