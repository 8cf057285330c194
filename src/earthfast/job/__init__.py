"""The job document: fields, units, loading with located errors."""

from earthfast.job.choosing import Choosing, FrostRule, Weights
from earthfast.job.document import Heading, Job
from earthfast.job.errors import JobError, JobNotSaved, JobProblems, NoWayPasses, Problem
from earthfast.job.load import LoadedJob, load_job, load_price_list, read_job
from earthfast.job.money import Money, Per, Price
from earthfast.job.new import NewJobAnswers, new_job_text
from earthfast.job.observations import ObservationEntry
from earthfast.job.plan import LengthUnit, Outline, Plan, PlanArea
from earthfast.job.prices import CarbonFactors, PriceList, PriceRow, Prices
from earthfast.job.quantity import QuantityError, TypedQuantity, read_quantity
from earthfast.job.reference import job_reference
from earthfast.job.save import previous_version, save_job, with_specimens
from earthfast.job.schema import schema_text
from earthfast.job.site import (
    Access,
    Climate,
    CompassPoint,
    Earthwork,
    EdgeDrainage,
    Falls,
    Hemisphere,
    Lie,
    LocalClimate,
    Near,
    Services,
    Site,
    StratumEntry,
)
from earthfast.job.stated_dose import StatedDose, disagreement, stated_doses
from earthfast.job.tools import Crew, Digger, Mixer, Plate, Roller, Skill, Spreader, Tamper, Tiller, Tools
from earthfast.job.trials import (
    BeamLoading,
    BinderEntry,
    BinderKind,
    Brushed,
    DensityOf,
    Dropped,
    InWater,
    SpecimenEntry,
    SpecimenKind,
    Trial,
)
from earthfast.job.units import Dimension, Unit, UnitSystem, shown, written
from earthfast.job.use import Consequence, LoadEntry, Paving, PavingKind, Use

__all__ = [
    "Access",
    "BeamLoading",
    "BinderEntry",
    "BinderKind",
    "Brushed",
    "CarbonFactors",
    "Choosing",
    "Climate",
    "CompassPoint",
    "Consequence",
    "Crew",
    "DensityOf",
    "Digger",
    "Dimension",
    "Dropped",
    "Earthwork",
    "EdgeDrainage",
    "Falls",
    "FrostRule",
    "Heading",
    "Hemisphere",
    "InWater",
    "Job",
    "JobError",
    "JobNotSaved",
    "JobProblems",
    "LengthUnit",
    "Lie",
    "LoadEntry",
    "LoadedJob",
    "LocalClimate",
    "Mixer",
    "Money",
    "Near",
    "NewJobAnswers",
    "NoWayPasses",
    "ObservationEntry",
    "Outline",
    "Paving",
    "PavingKind",
    "Per",
    "Plan",
    "PlanArea",
    "Plate",
    "Price",
    "PriceList",
    "PriceRow",
    "Prices",
    "Problem",
    "QuantityError",
    "Roller",
    "Services",
    "Site",
    "Skill",
    "SpecimenEntry",
    "SpecimenKind",
    "Spreader",
    "StatedDose",
    "StratumEntry",
    "Tamper",
    "Tiller",
    "Tools",
    "Trial",
    "TypedQuantity",
    "Unit",
    "UnitSystem",
    "Use",
    "Weights",
    "disagreement",
    "job_reference",
    "load_job",
    "load_price_list",
    "new_job_text",
    "previous_version",
    "read_job",
    "read_quantity",
    "save_job",
    "schema_text",
    "shown",
    "stated_doses",
    "with_specimens",
    "written",
]
