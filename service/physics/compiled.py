"""The one way physics is compiled: scalar functions, floats in, float out, plain Python without the compiler.

`NUMBA_DISABLE_JIT=1` runs the same text interpreted: slow, but every line can be stepped through and counted.
Multiplications and additions may be fused, and divisions by a constant become products: the last digit at most. All
functions say so, since numba hands a caller's leave to what it calls, and rounding would else depend on who came first.
`error_model="numpy"` makes a division by zero give inf, as NumPy does, instead of an exception the loop cannot raise.
"""

from numba import njit

ROUNDING = {"contract", "arcp"}

compiled = njit(cache=True, nogil=True, error_model="numpy", fastmath=ROUNDING)
compiled_parallel = njit(cache=True, nogil=True, error_model="numpy", fastmath=ROUNDING, parallel=True)
