// Physical constants shared by every model. SI.
#pragma once

namespace bowrise {

inline constexpr double gravity_m_s2 = 9.80665;           ///< standard gravity, exact (CGPM 1901)
inline constexpr double zero_celsius_K = 273.15;          ///< exact, ITS-90
inline constexpr double standard_pressure_Pa = 101325.0;  ///< standard atmosphere, ISO 2533:1975
inline constexpr double pi = 3.141592653589793238462643383279502884;
inline constexpr double radians_per_degree = pi / 180.0;
inline constexpr double rpm_per_rad_s = 30.0 / pi;

}  // namespace bowrise
