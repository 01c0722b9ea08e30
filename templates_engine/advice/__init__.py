"""Finds what would help: changes of a job, each solved and checked before it is offered, and what a row fits.

Stands above layout and checks; neither knows of it.
"""

from templates_engine.advice.advise import Offer, advise, offers
from templates_engine.advice.fit import RowFit, fit_rows

__all__ = ["Offer", "RowFit", "advise", "fit_rows", "offers"]
