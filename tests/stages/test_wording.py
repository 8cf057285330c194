"""What is the same for several areas is said once, and names them."""

from __future__ import annotations

from earthfast.estimate import Caution, CautionCode
from earthfast.stages import choose_for
from earthfast.stages.wording import named_together, said_once


def test_a_caution_that_is_the_same_for_two_areas_names_both():
    def caution(text, where=""):
        return Caution(CautionCode.STOP_AND_ASK, text, where, "common_practice")

    cautions = [
        caution("base: ask", "base"),
        caution("prices"),
        caution("path: ask", "path"),
        caution("path: wait"),
    ]
    told = named_together(cautions, ["base", "path"])
    assert [(one.text, one.where) for one in told] == [
        ("base and path: ask", "base and path"),
        ("prices", ""),
        ("path: wait", "path"),
    ]


def test_sentences_of_an_earlier_area_are_counted_and_not_repeated(changed):
    answer = choose_for(changed()).answer
    base, path = answer.areas
    first, second = said_once(answer.areas)
    both = set(base.says) & set(path.says)
    assert both
    assert first == base.says
    assert second[:-1] == tuple(words for words in path.says if words not in both)
    assert second[-1].startswith(f"{len(both)} more sentences are the same as for base")
    assert [
        caution.text.split(":")[0] for caution in answer.cautions if "has been tried" in caution.text
    ] == ["base and path"]
