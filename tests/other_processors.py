"""This processor as others are: its matrix library's other kernels, and its compiled code without AVX-512.

    python -m tests.other_processors            runs the bit tests under every variant that differs from the default
    python -m tests.other_processors features   prints NUMBA_CPU_FEATURES of this processor without AVX-512

A matrix kernel that the processor has no instructions for would end the process, so /proc/cpuinfo is asked first. A
variant that the libraries do not know, or that is the default itself, is not run again. The name of a processor alone
would keep all its vector instructions: only a list of features takes them away.
"""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
MATRIX_KERNELS = {  # of OpenBLAS, by the instructions they need, as its own detection has them (from memory)
    "Nehalem": ("sse4_2",),
    "Sandybridge": ("avx",),
    "Haswell": ("avx2", "fma"),
    "Zen": ("avx2", "fma"),
    "SkylakeX": ("avx512f", "avx512bw", "avx512cd", "avx512dq", "avx512vl"),
    "Cooperlake": ("avx512f", "avx512bw", "avx512cd", "avx512dq", "avx512vl", "avx512_bf16"),
    "SapphireRapids": ("avx512f", "avx512bw", "avx512cd", "avx512dq", "avx512vl", "avx512_bf16", "amx_bf16"),
}
BIT_TESTS = ("tests/simulation/test_bit_equality.py", "-k", "settings or permuted or threads")
FOUND = (
    "from numpy.linalg import svd\n"
    "from threadpoolctl import threadpool_info\n"
    "print(*sorted({each['architecture'] for each in threadpool_info() if each['user_api'] == 'blas'}))\n"
)


def instructions(cpuinfo=Path("/proc/cpuinfo")):
    """Names of the instruction sets of this processor; none where the system does not tell."""
    if not cpuinfo.exists():
        return set()
    lines = cpuinfo.read_text(encoding="utf-8").splitlines()
    return next((set(line.split(":", 1)[1].split()) for line in lines if line.startswith("flags")), set())


def supported_kernels(known):
    """Names of the matrix kernels that a processor with these instruction sets can run."""
    return [name for name, needed in MATRIX_KERNELS.items() if known.issuperset(needed)]


def narrow_features():
    """Features of this processor for the compiler, every AVX-512 and later vector set switched off."""
    from llvmlite.binding import get_host_cpu_features

    features = get_host_cpu_features()
    for name in features:
        if name.startswith(("avx512", "avx10", "amx", "evex512")):
            features[name] = False
    return features.flatten()


def vector_bits():
    """Width of the vectors that compiled code has in this process [bits], from the compiler's features in force."""
    from numba.core.registry import cpu_target

    features = cpu_target.target_context.codegen().magic_tuple()[2].split(",")
    return next((bits for name, bits in (("+avx512f", 512), ("+avx2", 256), ("+avx", 256)) if name in features), 128)


def variants(known):
    """{name: environment} of every variant of a processor with these instruction sets but the default."""
    kernel = lambda **asked: subprocess.run(  # noqa: E731
        [sys.executable, "-c", FOUND], env={**os.environ, **asked}, check=True, capture_output=True, text=True
    ).stdout.strip()  # fmt: skip
    found, seen = {}, {kernel()}
    for name in supported_kernels(known):
        taken = kernel(OPENBLAS_CORETYPE=name)
        if taken not in seen:
            seen.add(taken)
            found[f"matrix kernels {taken}"] = {"OPENBLAS_CORETYPE": name}
    if "avx512f" in known:
        found["compiled without AVX-512"] = {"NUMBA_CPU_FEATURES": narrow_features()}
    return found


def main():
    failed = []
    for name, environment in variants(instructions()).items():
        print(f"bit tests, {name}", flush=True)
        command = [sys.executable, "-m", "pytest", "-q", "--timeout=1200", *BIT_TESTS]  # one variant compiles first
        if subprocess.run(command, cwd=ROOT, env={**os.environ, **environment}, check=False).returncode:
            failed.append(name)
    if failed:
        sys.exit(f"bits differ or tests fail: {', '.join(failed)}")


if __name__ == "__main__":
    print(narrow_features()) if sys.argv[1:] == ["features"] else main()
