"""Parts that several answers share."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

NEARLY_CERTAIN = 99.0  # %


class Part(BaseModel):
    """Base of every answer: frozen, nothing unknown."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class SourceLine(Part):
    """On whose word a figure stands."""

    key: str = Field(description="Key in the bibliography.")
    place: str = Field(description="Where in the document.")
    status: str = Field(
        description="S seen, M memory, C computed, P proposed, CP common practice, U user, I invented."
    )
    words: str = Field(description="The status in words.")
    citation: str = Field(description="The document, in a line.")


class Figure(Part):
    """A number with its unit, its band and the key that `why` takes."""

    key: str
    label: str
    value: float = Field(description="Median, in `unit`.")
    low: float | None = Field(
        default=None,
        description="Lower end of the 5..95 % band, where uncertain; of money, carbon and hours the sum of low ends.",
    )
    high: float | None = Field(
        default=None,
        description="Upper end of the 5..95 % band, where uncertain; of money, carbon and hours the sum of high ends.",
    )
    unit: str
    text: str = Field(description="As shown: '34 kPa (21 to 55)'.")

    @property
    def as_chance(self) -> str:
        """The text of a chance in per cent; what is nearly certain is not called certain."""
        return "over 99 %" if self.value > NEARLY_CERTAIN else self.text


class CautionLine(Part):
    """An engineering doubt."""

    code: str
    text: str
    where: str = ""
    source: str = ""


class AssumptionLine(Part):
    """A value the user did not give, with its source and how much it matters."""

    figure: Figure
    because: str
    sources: tuple[SourceLine, ...]
    effect: float | None = Field(
        default=None, description="Share (0..1) of the spread of the deciding figure that it carries."
    )


class Answer(Part):
    """What every verb's answer holds."""

    schema_version: int = 1
    verb: str
    earthfast: str = Field(description="Version of Earthfast.")
    job: str = Field(description="Title of the job.")
    demonstration: bool = Field(description="The job's figures are invented.")
    headline: str = Field(description="The answer in one sentence.")
    cautions: tuple[CautionLine, ...]
    assumptions: tuple[AssumptionLine, ...]
    exit_status: int = Field(description="0 done, 1 something falls short.")
