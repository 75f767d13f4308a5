"""What the limits are compared with: the geometry of two leather tests, and the saying of 600
pounds per square inch.

Ball test (ISO 3379 method): a ball is pushed through leather clamped in a ring. Set-in-lasting test
(BS 3144 method): a disc is formed to a dome. Thin wall: any textbook of mechanics, T = σ·t and p =
T/r.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BallTest:
    """clamp_mm: radius of the clamp; ball_mm: radius of the ball; both above 0."""

    clamp_mm: float
    ball_mm: float

    def strain(self, height_mm: float) -> float:
        """Average strain along the line from the clamp over a ball whose top stands height_mm above
        it.
        """
        depth = height_mm - self.ball_mm
        reach = math.hypot(self.clamp_mm, depth)
        tangent = math.sqrt(reach**2 - self.ball_mm**2)
        return (tangent + self.ball_mm * self.angle(height_mm)) / self.clamp_mm - 1

    def angle(self, height_mm: float) -> float:
        """Angle of the leather's straight part, radians."""
        depth = height_mm - self.ball_mm
        return math.atan2(depth, self.clamp_mm) + math.asin(
            self.ball_mm / math.hypot(self.clamp_mm, depth)
        )

    def cone_strain(self, height_mm: float) -> float:
        """The same for a point instead of a ball: always lower."""
        return math.hypot(1, height_mm / self.clamp_mm) - 1


def dome_height_mm(radius_mm: float, area_gain: float) -> float:
    """Height of a spherical dome on a ring whose area has grown by that share."""
    return radius_mm * math.sqrt(area_gain)


def each_way(area_gain: float) -> float:
    """Strain each way of an area that grew by that share, alike in all directions."""
    return math.sqrt(1 + area_gain) - 1


def wall_pressure_mpa(stress_mpa: float, thickness_mm: float, radius_mm: float) -> float:
    """Pressure on a thin round wall whose section bears a stress."""
    return stress_mpa * thickness_mm / radius_mm


def wall_stress_mpa(pressure_mpa: float, thickness_mm: float, radius_mm: float) -> float:
    """Stress in the section of a thin round wall under a pressure."""
    return pressure_mpa * radius_mm / thickness_mm
