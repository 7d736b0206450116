#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "units/format.h"

/// Values as a person reads them.
namespace windgap::report {

/// Formats in one system of units.
class Shown {
 public:
  explicit Shown(units::System system) : system_(system) {}

  [[nodiscard]] units::System system() const { return system_; }
  [[nodiscard]] std::string length(double metres) const;
  [[nodiscard]] std::string airflow(double kilograms_per_second) const;
  [[nodiscard]] std::string pressure(double pascal) const;
  [[nodiscard]] std::string rotation(double radians_per_second) const;
  [[nodiscard]] std::string speed(double metres_per_second) const;
  [[nodiscard]] std::string share(double fraction) const;
  [[nodiscard]] std::string of(double value, units::Dimension dimension) const;

 private:
  units::System system_;
};

/// Rotational speed in revolutions per minute.
[[nodiscard]] double rpm(double radians_per_second);

/// Words from `text` in lines of at most `width` characters, each led by `indent` spaces.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t indent, std::size_t width);

/// Characters that a UTF-8 text takes on a screen.
[[nodiscard]] std::size_t width_of(std::string_view text);

enum class Align { left, right };

/// Cells in columns as wide as they need, two spaces apart; no spaces at line ends.
class TextTable {
 public:
  explicit TextTable(std::vector<Align> columns, std::size_t indent = 0)
      : columns_(std::move(columns)), indent_(indent) {}
  void add(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  [[nodiscard]] std::string text() const;

 private:
  std::vector<Align> columns_;
  std::size_t indent_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace windgap::report
