#pragma once

#include <cmath>
#include <map>
#include <string>

namespace windgap::spread {

/// Standard deviation of a sum of changes, each by one deviation of one thing: what moves together
/// adds up first, then squares add.
class Total {
 public:
  /// `group`: things of one group move together; empty: alone.
  void add(const std::string& group, double change) {
    if (group.empty()) {
      squares_ += change * change;
    } else {
      groups_[group] += change;
    }
  }
  [[nodiscard]] double deviation() const {
    double squares = squares_;
    for (const auto& [name, change] : groups_) squares += change * change;
    return std::sqrt(squares);
  }

 private:
  double squares_ = 0.0;
  std::map<std::string, double> groups_;
};

}  // namespace windgap::spread
