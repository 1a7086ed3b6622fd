#pragma once

namespace bowrise {

[[nodiscard]] constexpr double square(double x) noexcept { return x * x; }

}  // namespace bowrise
