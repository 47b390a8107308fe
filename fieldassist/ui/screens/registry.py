"""The screens by name."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldassist.ui.screens.base import Screen
from fieldassist.ui.screens.cautions import CautionsPage
from fieldassist.ui.screens.check import CheckScreen
from fieldassist.ui.screens.choices import ChoicesPage
from fieldassist.ui.screens.countersign import CountersignScreen
from fieldassist.ui.screens.crew import CrewPage
from fieldassist.ui.screens.day import DayScreen
from fieldassist.ui.screens.days import DaysScreen
from fieldassist.ui.screens.dust import DustPage
from fieldassist.ui.screens.ear import EarPage
from fieldassist.ui.screens.failed import FailedScreen
from fieldassist.ui.screens.glossary import GlossaryPage
from fieldassist.ui.screens.handing import Handing
from fieldassist.ui.screens.handling import HandlingPage
from fieldassist.ui.screens.history import HistoryScreen
from fieldassist.ui.screens.layout import LayoutScreen
from fieldassist.ui.screens.lift import LiftScreen
from fieldassist.ui.screens.measuring import MeasuringScreen
from fieldassist.ui.screens.mortars import MortarsScreen
from fieldassist.ui.screens.person import PersonPage
from fieldassist.ui.screens.photos import Photos
from fieldassist.ui.screens.piece import PieceScreen
from fieldassist.ui.screens.plan import Plan
from fieldassist.ui.screens.plan_parts import PlanParts, PlanSources
from fieldassist.ui.screens.roster import RosterScreen
from fieldassist.ui.screens.signing import PageReader, SignOff
from fieldassist.ui.screens.site import SiteScreen
from fieldassist.ui.screens.trial import TrialScreen
from fieldassist.ui.screens.trial_design import TrialDesignScreen
from fieldassist.ui.screens.trial_release import TrialReleaseScreen
from fieldassist.ui.screens.trial_samples import TrialSamplesScreen
from fieldassist.ui.screens.wall import WallScreen
from fieldassist.ui.screens.work import WorkScreen
from fieldassist.ui.screens.work_else import SomethingElse
from fieldassist.ui.tablet import Tablet

SCREENS: Mapping[str, Callable[[Tablet], Screen]] = {
    # the four places
    "wall": WallScreen,
    "work": WorkScreen,
    "plan": Plan,
    "day": DayScreen,
    # behind them
    "site": SiteScreen,
    "mortars": MortarsScreen,
    "days": DaysScreen,
    "trial": TrialScreen,
    "trial design": TrialDesignScreen,
    "trial samples": TrialSamplesScreen,
    "release": TrialReleaseScreen,
    "else": SomethingElse,
    "person": PersonPage,
    "crew": CrewPage,
    "roster": RosterScreen,
    "ear": EarPage,
    "glossary": GlossaryPage,
    "dust": DustPage,
    "cautions": CautionsPage,
    "handling": HandlingPage,
    "tablet": ChoicesPage,
    "piece": PieceScreen,
    "history": HistoryScreen,
    "layout": LayoutScreen,
    "lift": LiftScreen,
    "failed": FailedScreen,
    "measuring": MeasuringScreen,
    "photos": Photos,
    "plan parts": PlanParts,
    "plan sources": PlanSources,
    "signing": SignOff,
    "pages": PageReader,
    "handing": Handing,
    "countersign": CountersignScreen,
    "check": CheckScreen,
}
