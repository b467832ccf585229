#!/usr/bin/env python3
"""Reference values of tests/unit/reference_fits_test.cpp, by a general-purpose library.

Run with the system's interpreter (python3-scipy); prints the version and the values that the test holds.
"""
import numpy
import scipy
from scipy import integrate, optimize
from scipy.stats import norm

S = numpy.array([0.0, 2.0, 4.5, 7.0, 9.0, 12.0, 15.0, 20.0])
Y = numpy.array([5.00, 5.03, 5.10, 5.11, 5.16, 5.17, 5.21, 5.22])
SD = numpy.array([0.025, 0.03, 0.025, 0.04, 0.025, 0.03, 0.025, 0.025])
STRAY = numpy.array([0.0020, 0.0017, 0.0014, 0.0011, 0.0008, 0.0005, 0.0003, 0.0])
H, H_SD, LOG_K, LOG_K_SD = 0.20, 0.10, numpy.log(0.12), 0.35
S_NOW = 20.0


def linear(log_k):
    """ln posterior (up to a constant), mean and covariance of (v0, h) with this rate."""
    design = numpy.column_stack([numpy.ones_like(S), 1.0 - numpy.exp(-numpy.exp(log_k) * S)])
    covariance = numpy.minimum.outer(STRAY, STRAY) + numpy.diag(SD**2)
    inverse = numpy.linalg.inv(covariance)
    prior = numpy.diag([0.0, 1.0 / H_SD**2])
    precision = design.T @ inverse @ design + prior
    mean = numpy.linalg.solve(precision, design.T @ inverse @ Y + prior @ [0.0, H])
    off = Y - design @ mean
    square = off @ inverse @ off + ((mean[1] - H) / H_SD) ** 2
    log = -0.5 * square - 0.5 * numpy.linalg.slogdet(precision)[1]
    return log - 0.5 * ((log_k - LOG_K) / LOG_K_SD) ** 2, mean, numpy.linalg.inv(precision)


def rate():
    found = optimize.minimize_scalar(lambda x: -linear(x)[0], bounds=(-4.0, -0.5), method="bounded",
                                     options={"xatol": 1e-12})
    grid = numpy.linspace(LOG_K - 8 * LOG_K_SD, LOG_K + 8 * LOG_K_SD, 20001)
    fits = [linear(x) for x in grid]
    weight = numpy.exp(numpy.array([f[0] for f in fits]) - linear(found.x)[0])
    weight /= weight.sum()
    a = [numpy.array([1.0, 1.0 - numpy.exp(-numpy.exp(x) * S_NOW)]) for x in grid]
    mean = numpy.array([v @ f[1] for v, f in zip(a, fits)])
    variance = numpy.array([v @ f[2] @ v for v, f in zip(a, fits)])
    now = weight @ mean
    spread = numpy.sqrt(weight @ (variance + mean**2) - now**2)
    log_k = weight @ grid
    print(f"mode of ln k {found.x:.9f}")
    print(f"ln k {log_k:.6f} +- {numpy.sqrt(weight @ grid**2 - log_k**2):.6f}")
    print(f"level now {now:.6f} +- {spread:.6f}")


def one_bound():
    """x ~ N(5, 0.04^2), known to be at least 5.05 with a spread of 0.03."""
    density = lambda x: norm.pdf(x, 5.0, 0.04) * norm.cdf((x - 5.05) / 0.03)
    moments = [integrate.quad(lambda x: x**p * density(x), 4.5, 5.5, epsabs=1e-14, epsrel=1e-13,
                              points=[5.0, 5.05])[0] for p in range(3)]
    mean = moments[1] / moments[0]
    print(f"one bound {mean:.10f} +- {numpy.sqrt(moments[2] / moments[0] - mean**2):.10f}")


def many_bounds():
    """The same variable and six bounds of different heights."""
    bounds = [4.95, 5.00, 5.02, 5.03, 5.05, 5.06]
    density = lambda x: norm.pdf(x, 5.0, 0.04) * numpy.prod([norm.cdf((x - b) / 0.03) for b in bounds])
    moments = [integrate.quad(lambda x: x**p * density(x), 4.5, 5.5, epsabs=1e-15, epsrel=1e-12,
                              points=[5.0, 5.05, 5.1])[0] for p in range(3)]
    mean = moments[1] / moments[0]
    print(f"six bounds {mean:.8f} +- {numpy.sqrt(moments[2] / moments[0] - mean**2):.8f}")


def tail():
    for z in (-30.0, -8.0, -4.0, -1.0, 0.0, 3.0):
        print(f"phi/Phi({z}) = {numpy.exp(norm.logpdf(z) - norm.logcdf(z)):.14g}")


print(f"scipy {scipy.__version__}, numpy {numpy.__version__}")
rate()
one_bound()
many_bounds()
tail()
