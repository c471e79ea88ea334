"""SciPy where it is used, and no sooner: to import it takes most of a second, in every worker."""

from typing import Any


def brentq(*args: Any, **options: Any) -> Any:
    """See scipy.optimize."""
    from scipy import optimize

    return optimize.brentq(*args, **options)


def minimize(*args: Any, **options: Any) -> Any:
    """See scipy.optimize."""
    from scipy import optimize

    return optimize.minimize(*args, **options)


def solve_ivp(*args: Any, **options: Any) -> Any:
    """See scipy.integrate."""
    from scipy import integrate

    return integrate.solve_ivp(*args, **options)
