"""Holds matrix products to one thread."""

from functools import lru_cache

from threadpoolctl import threadpool_limits


@lru_cache(maxsize=1)
def one_blas_thread():
    """Limit for the life of the process: the last digits of matrix products depend on the number of
    threads.
    """
    return threadpool_limits(limits=1, user_api="blas")
