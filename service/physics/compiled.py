"""The one way physics is compiled: scalar functions, floats in, float out, plain Python without the compiler.

`NUMBA_DISABLE_JIT=1` runs the same text interpreted: slow, but every line can be stepped through and counted.
`error_model="numpy"` makes a division by zero give inf, as NumPy does, instead of an exception the loop cannot raise.
"""

from numba import njit

compiled = njit(cache=True, nogil=True, error_model="numpy")
compiled_parallel = njit(cache=True, nogil=True, error_model="numpy", parallel=True)
