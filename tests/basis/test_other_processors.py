"""Variants of a processor for the bit tests: never one it has no instructions for."""

from tests.other_processors import MATRIX_KERNELS, instructions, narrow_features, supported_kernels, vector_bits

LAPTOP = {"sse4_2", "avx", "avx2", "fma"}


def test_a_processor_is_asked_for_no_kernel_it_cannot_run():
    assert supported_kernels(LAPTOP) == ["Nehalem", "Sandybridge", "Haswell", "Zen"]
    assert supported_kernels(set()) == []
    assert supported_kernels({word for needed in MATRIX_KERNELS.values() for word in needed}) == list(MATRIX_KERNELS)


def test_instructions_are_read_where_the_system_tells_them(tmp_path):
    told = tmp_path / "cpuinfo"
    told.write_text("processor\t: 0\nflags\t\t: fpu avx avx2\n\nprocessor\t: 1\nflags\t\t: fpu\n", encoding="utf-8")
    assert instructions(told) == {"fpu", "avx", "avx2"}
    assert instructions(tmp_path / "none") == set()


def test_narrow_features_hold_every_feature_but_no_vector_past_256_bits():
    names = narrow_features().split(",")
    assert not [name for name in names if name.startswith(("+avx512", "+avx10", "+amx"))]
    assert vector_bits() in (128, 256, 512)
