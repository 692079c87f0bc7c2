"""The draw of mutations: the same for a seed, spread over files, one token each."""

import ast
from collections import Counter

import pytest

from tests import reach
from tests.mutation.draw import KERNELS, draw
from tests.mutation.run_mutations import COUNT, SEED


@pytest.fixture(scope="module")
def drawn():
    return draw(COUNT, SEED)


def test_as_many_as_asked_each_once_and_few_in_kernels(drawn):
    assert len({m.key() for m in drawn}) == len({(m.file, m.line, m.column) for m in drawn}) == COUNT
    assert sum(m.kernel for m in drawn) <= KERNELS
    assert set(Counter(m.kind for m in drawn)) == {"operator", "sign", "comparison", "constant", "index"}


def test_every_mutation_is_one_other_token_of_a_source_that_still_parses(drawn):
    for m in drawn:
        lines = reach.source(m.module).splitlines()
        line = lines[m.line - 1]
        assert line[m.column :].startswith(m.token) and m.token != m.broken
        lines[m.line - 1] = line[: m.column] + m.broken + line[m.column + len(m.token) :]
        assert ast.dump(ast.parse("\n".join(lines))) != ast.dump(ast.parse(reach.source(m.module)))


def test_no_file_takes_more_than_its_share(drawn):
    assert max(Counter(m.file for m in drawn).values()) <= 6
    assert len({m.file for m in drawn}) >= 70


def test_another_seed_draws_others():
    assert {m.key() for m in draw(20, 1)} != {m.key() for m in draw(20, 2)}
