#include "report/shown.h"

#include <algorithm>
#include <cmath>

namespace windgap::report {

using units::Dimension;

namespace {

/// What is smaller than this is nothing to a person.
double least_shown(Dimension dimension) {
  constexpr double least_pressure = 0.1;
  constexpr double least_share = 1e-5;
  if (dimension == Dimension::pressure) return least_pressure;
  return dimension == Dimension::ratio ? least_share : 0.0;
}

}  // namespace

std::string Shown::of(double value, Dimension dimension) const {
  const bool nothing = std::abs(value) < least_shown(dimension);
  return units::format(nothing ? 0.0 : value, dimension, system_);
}
std::string Shown::length(double metres) const { return of(metres, Dimension::length); }
std::string Shown::airflow(double kilograms_per_second) const {
  return of(kilograms_per_second, Dimension::mass_flow);
}
std::string Shown::pressure(double pascal) const { return of(pascal, Dimension::pressure); }
std::string Shown::rotation(double radians_per_second) const {
  return of(radians_per_second, Dimension::angular_speed);
}
std::string Shown::speed(double metres_per_second) const {
  return of(metres_per_second, Dimension::speed);
}
std::string Shown::share(double fraction) const { return of(fraction, Dimension::ratio); }

double rpm(double radians_per_second) {
  return radians_per_second / units::find_unit("rpm", Dimension::angular_speed)->factor;
}

std::size_t width_of(std::string_view text) {
  // Continuation bytes of UTF-8 take no room.
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

std::string wrapped(std::string_view text, std::size_t indent, std::size_t width) {
  const std::string lead(indent, ' ');
  std::string result;
  std::string line = lead;
  bool fresh = true;
  while (!text.empty()) {
    const auto end = std::min(text.find(' '), text.size());
    const auto word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) continue;
    if (!fresh && width_of(line) + 1 + width_of(word) > width) {
      result += line + "\n";
      line = lead;
      fresh = true;
    }
    if (!fresh) line += ' ';
    line += word;
    fresh = false;
  }
  return fresh ? result : result + line + "\n";
}

std::string TextTable::text() const {
  constexpr std::size_t gap = 2;
  std::vector<std::size_t> widths(columns_.size(), 0);
  for (const auto& row : rows_) {
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
  }
  std::string result;
  for (const auto& row : rows_) {
    std::string line(indent_, ' ');
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::string fill(widths[i] - width_of(row[i]), ' ');
      if (i > 0) line.append(gap, ' ');
      line += columns_[i] == Align::right ? fill + row[i] : row[i] + fill;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    result += line + "\n";
  }
  return result;
}

}  // namespace windgap::report
