// Whether two computations start from the very same inputs, so that the result of one is that of the other.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>

#include "models/parameter.hpp"

namespace bowrise {

/// The same bits in every number of two values that are made of doubles alone. A number not given, NaN, is
/// the same as another.
template <class Numbers>
[[nodiscard]] bool same_bits(const Numbers& a, const Numbers& b) noexcept {
  using Bits = std::array<std::uint64_t, sizeof(Numbers) / sizeof(double)>;
  return std::bit_cast<Bits>(a) == std::bit_cast<Bits>(b);
}

/// The same bits in every input of two parts: all their rows, and a field without a row does not compile
/// (`part_size`).
template <class Part, std::size_t numbers, std::size_t choices = 0, std::size_t tables = 0>
[[nodiscard]] bool same_inputs(const Part& a, const Part& b,
                               const std::array<Parameter<Part>, numbers>& number_rows,
                               const std::array<Choice<Part>, choices>& choice_rows = no_choices<Part>,
                               const std::array<TableParameter<Part>, tables>& table_rows = no_tables<Part>) {
  const auto same_row = [](const std::vector<double>& x, const std::vector<double>& y) {
    return std::equal(x.begin(), x.end(), y.begin(), y.end(), same_bits<double>);
  };
  return std::all_of(number_rows.begin(), number_rows.end(),
                     [&](const auto& row) { return same_bits(a.*row.field, b.*row.field); }) &&
         std::all_of(choice_rows.begin(), choice_rows.end(),
                     [&](const auto& row) { return row.get(a) == row.get(b); }) &&
         std::all_of(table_rows.begin(), table_rows.end(), [&](const auto& row) {
           const TableRows &x = a.*row.field, &y = b.*row.field;
           return std::equal(x.begin(), x.end(), y.begin(), y.end(), same_row);
         });
}

}  // namespace bowrise
