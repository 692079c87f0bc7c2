"""Holds the matrix library to one thread."""

from functools import lru_cache

from threadpoolctl import threadpool_limits


@lru_cache(maxsize=1)
def one_blas_thread():
    """Limit for the life of the process: the last digits of singular values and of solved systems, with which a march
    is prepared, depend on the number of threads. The march itself calls no matrix library.
    """
    return threadpool_limits(limits=1, user_api="blas")
