"""Least squares within 0–1: Gauss–Newton steps, damped as Levenberg and Marquardt do."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from checkcloth.arguments import Floats

# Residuals (B, n) of numbers (B, p).
Residuals = Callable[[Floats], Floats]


def jacobian(residuals: Residuals, x: Floats, here: Floats) -> Floats:
    """Derivatives (n, p) at numbers (p,) by one-sided steps that stay inside 0–1."""
    size = np.where(x < 0.5, 1e-6, -1e-6)
    moved = residuals(x + np.diag(size))
    return np.asarray(((moved - here) / size[:, None]).T)


def fit(residuals: Residuals, start: Floats) -> tuple[Floats, Floats]:
    """Return the numbers (p,) with the least sum of squares, and what they leave (n,)."""
    x, damping = start.copy(), 1e-3
    here = residuals(x[None])[0]
    best = float(here @ here)
    for _ in range(60):
        slope = jacobian(residuals, x, here)
        normal = slope.T @ slope
        gradient = slope.T @ here
        scale = np.diag(normal) + 1e-12
        gain = 0.0
        for _ in range(12):
            step = np.linalg.solve(normal + np.diag(damping * scale), -gradient)
            trial = np.clip(x + step, 0, 1)
            there = residuals(trial[None])[0]
            square = float(there @ there)
            if square < best:
                gain = best - square
                x, here, best = trial, there, square
                damping = max(damping / 5, 1e-9)
                break
            damping *= 4
        if gain <= 1e-6 * best + 1e-12:
            break
    return x, here


def left_by(residual: Floats, columns: Floats) -> float:
    """Sum of squares of a residual (n,) that columns (n, p) cannot account for."""
    return float(residual @ residual - ((basis(columns).T @ residual) ** 2).sum())


def basis(columns: Floats) -> Floats:
    """Orthonormal columns (n, q) that span the same, without those that do not count."""
    u, singular, _ = np.linalg.svd(columns, full_matrices=False)
    return np.asarray(u[:, singular > 1e-9 * max(singular.max(initial=0), 1e-9)])
