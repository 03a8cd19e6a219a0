"""Whatever a program sends, the answer is as it is described and never a fault of ours.

Cases are made from the description by schemathesis, which judges the answers too.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from named_box import named_collection
from served import running

from solander.station.app import create_app
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.station.workbench import Workbench

pytestmark = [pytest.mark.slow]

REAL = {
    "accession": ["B2-E5-0006", "B2-E5-0008"],
    "name": ["Ingrid Sollihøgda", "Vessholm", "The regatta"],
    "number": [1, 2],
}
"""Values that lead somewhere: made up ones hardly ever do."""

CASES = 30
"""Cases for each address and method; our choice, bounded so that the test ends within two minutes or so."""


PARTS = 4
"""So many tests share the addresses: none of them takes long, and they are spread over the processes."""


@pytest.fixture(scope="module")
def operations(tmp_path_factory: pytest.TempPathFactory) -> Iterator[list]:
    schemathesis = pytest.importorskip("schemathesis", reason="schemathesis is not installed")
    with named_collection(tmp_path_factory.mktemp("fuzzed") / "box") as collection:
        with running(create_app(Workbench.over(collection))) as address:
            schema = schemathesis.openapi.from_url(f"{address}/api/openapi.json")
            yield [found.ok() for found in schema.get_all_operations()]
        assert collection.catalogue.damage() == []


@pytest.mark.parametrize("part", range(PARTS))
def test_no_input_leads_to_a_fault_of_ours(operations: list, part: int):
    assert len(operations) >= 20
    for operation in operations[part::PARTS]:
        _fuzz(operation)


def _fuzz(operation) -> None:
    from schemathesis.checks import not_a_server_error
    from schemathesis.specs.openapi.checks import (
        content_type_conformance,
        response_schema_conformance,
        status_code_conformance,
    )

    checks = [not_a_server_error, content_type_conformance, response_schema_conformance, status_code_conformance]

    @settings(
        max_examples=CASES,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(case=operation.as_strategy(), chosen=st.integers(0, 3))
    def send(case, chosen: int) -> None:
        for name in case.path_parameters or {}:
            real = REAL.get(name, [])
            if chosen < len(real):
                case.path_parameters[name] = real[chosen]
        answer = case.call(headers={TOKEN_HEADER: seal()}, timeout=20)
        case.validate_response(answer, checks=checks)

    send()
