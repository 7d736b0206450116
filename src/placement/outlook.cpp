#include "placement/outlook.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "units/parallel.h"

namespace windgap::placement {
namespace {

constexpr std::size_t index(Quantity quantity) { return static_cast<std::size_t>(quantity); }

/// Logarithm of what is above a floor, so that a rotor at rest stays a number.
double log_above(double value, double floor) { return std::log(std::max(value, floor)); }

constexpr std::size_t grain = 32;

void solve_node(Outlook& outlook, const Survey& survey, std::size_t node) {
  const double stand_off = outlook.nodes[node];
  in_blocks(outlook.members(), grain, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      const auto row = look(outlook.rigs[i], stand_off, survey.requirement);
      const auto all = seen(outlook.rigs[i], row);
      for (std::size_t q = 0; q < quantity_count; ++q) {
        outlook.values[q][node][i] = all[q];
      }
      for (std::size_t k = 0; k < constraint_count; ++k) {
        outlook.slacks[k][node][i] = row.constraints[k].slack;
      }
    }
  });
}

/// Two-sided differences of the nominal bench over each start axis.
void differentiate(Outlook& outlook, const Survey& survey, std::span<const std::size_t> nodes) {
  const std::size_t axes = survey.plan.axes.size();
  const auto nominal =
      spread::Maker(survey.plan, survey.subject).make(std::vector<double>(axes, 0.0));
  const auto look_at = [&](const rig::Rig& rig, std::size_t node) {
    return seen(rig, look(rig, outlook.nodes[node], survey.requirement));
  };
  for (const auto node : nodes) {
    const auto values = look_at(nominal, node);
    for (std::size_t q = 0; q < quantity_count; ++q) outlook.nominal[q][node] = values[q];
  }
  in_parallel(axes, [&](std::size_t axis) {
    if (survey.plan.axes[axis].varies != spread::Varies::start) return;
    spread::Maker maker(survey.plan, survey.subject);
    std::vector<double> z(axes, 0.0);
    z[axis] = 1.0;
    const auto up = maker.make(z);
    z[axis] = -1.0;
    const auto down = maker.make(z);
    for (const auto node : nodes) {
      const auto above = look_at(up, node);
      const auto below = look_at(down, node);
      for (std::size_t q = 0; q < quantity_count; ++q) {
        const double change = 0.5 * (above[q] - below[q]);
        outlook.start_effects[q][node][axis] = std::isfinite(change) ? change : 0.0;
      }
    }
  });
}

void insert_row(Rows& rows, std::size_t node, std::size_t size) {
  rows.insert(rows.begin() + static_cast<std::ptrdiff_t>(node), std::vector<double>(size, 0.0));
}

// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): a node, its place, a size
void make_room(Outlook& outlook, std::size_t node, double stand_off, std::size_t axes) {
  const auto place = static_cast<std::ptrdiff_t>(node);
  outlook.nodes.insert(outlook.nodes.begin() + place, stand_off);
  for (auto& rows : outlook.values) insert_row(rows, node, outlook.members());
  for (auto& rows : outlook.slacks) insert_row(rows, node, outlook.members());
  for (auto& rows : outlook.start_effects) insert_row(rows, node, axes);
  for (auto& values : outlook.nominal) values.insert(values.begin() + place, 0.0);
}

void assemble_members(Outlook& outlook, const Survey& survey) {
  const std::size_t count = outlook.normals.count;
  spread::Maker nominal(survey.plan, survey.subject);
  const std::vector<double> middle(survey.plan.axes.size(), 0.0);
  outlook.rigs.assign(count, nominal.make(middle));
  std::vector<char> sound(count, 0);
  in_blocks(count, grain, [&](std::size_t begin, std::size_t end) {
    spread::Maker maker(survey.plan, survey.subject);
    for (std::size_t i = begin; i < end; ++i) {
      try {
        outlook.rigs[i] = maker.make(outlook.normals.row(i));
        sound[i] = 1;
      } catch (const std::logic_error&) {
        // A draw that makes no bench is counted and weighs nothing.
        sound[i] = 0;
      }
    }
  });
  outlook.sound.assign(sound.begin(), sound.end());
  outlook.lost = static_cast<std::size_t>(std::count(sound.begin(), sound.end(), 0));
}

}  // namespace

Seen seen(const rig::Rig& rig, const Row& row) {
  constexpr double still = 1.0;       // [rad/s]
  constexpr double vacuum = 0.1;      // [Pa]
  constexpr double no_flow = 1e-9;    // [kg/s]
  constexpr double no_voltage = 0.1;  // [V]
  const auto& delivery = row.delivery;
  Seen all{};
  const bool possible = delivery.converged && std::isfinite(rig.starting_airflow);
  all[index(Quantity::airflow)] = log_above(delivery.airflow, no_flow);
  all[index(Quantity::supply)] = possible ? std::max(hopeless,
                                                     log_above(delivery.airflow, no_flow) -
                                                         log_above(rig.starting_airflow, no_flow))
                                          : hopeless;
  all[index(Quantity::speed)] = log_above(delivery.rotor_speed, still);
  all[index(Quantity::mouth_pressure)] = log_above(delivery.total_pressure, vacuum);
  all[index(Quantity::inducer_pressure)] = log_above(delivery.inducer_pressure, vacuum);
  all[index(Quantity::voltage)] =
      rig.fan.holds_flow ? 0.0 : log_above(row.fan.drive.pack_voltage, no_voltage);
  return all;
}

Between Outlook::between(double stand_off) const {
  Between place;
  const std::size_t last = nodes.size() - 1;
  const double s = std::clamp(stand_off, nodes.front(), nodes.back());
  const auto above = std::upper_bound(nodes.begin(), nodes.end(), s);
  const auto i = std::min(
      last - 1, static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, above - nodes.begin() - 1)));
  const std::size_t before = i > 0 ? i - 1 : i;
  const std::size_t after = i + 1 < last ? i + 2 : i + 1;
  place.node = {before, i, i + 1, after};
  const double width = nodes[i + 1] - nodes[i];
  const double t = (s - nodes[i]) / width;
  const double square = t * t;
  const double cube = square * t;
  const double rise_start = cube - 2.0 * square + t;
  const double rise_end = cube - square;
  place.weight[1] = 2.0 * cube - 3.0 * square + 1.0;
  place.weight[2] = 3.0 * square - 2.0 * cube;
  const auto add_slope =
      // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): from left to right
      [&](std::size_t left, std::size_t middle, std::size_t right, double share) {
        // Slope of the parabola through three nodes at the middle one; of a chord where two
        // coincide.
        const double h1 = nodes[place.node[middle]] - nodes[place.node[left]];
        const double h2 = nodes[place.node[right]] - nodes[place.node[middle]];
        if (!(h1 > 0.0) || !(h2 > 0.0)) {
          const double chord = nodes[place.node[right]] - nodes[place.node[left]];
          place.weight[left] -= share * width / chord;
          place.weight[right] += share * width / chord;
          return;
        }
        place.weight[left] -= share * width * h2 / (h1 * (h1 + h2));
        place.weight[middle] += share * width * (h2 - h1) / (h1 * h2);
        place.weight[right] += share * width * h1 / (h2 * (h1 + h2));
      };
  add_slope(0, 1, 2, rise_start);
  add_slope(1, 2, 3, rise_end);
  return place;
}

double Outlook::at(Quantity quantity, const Between& place, std::size_t member) const {
  const auto& rows = values[index(quantity)];
  double sum = 0.0;
  for (std::size_t k = 0; k < place.node.size(); ++k) {
    sum += place.weight[k] * rows[place.node[k]][member];
  }
  return sum;
}

void Outlook::at(Quantity quantity, double stand_off, std::vector<double>& out) const {
  const auto place = between(stand_off);
  out.resize(members());
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = at(quantity, place, i);
}

double Outlook::scatter(Quantity quantity, double stand_off) const {
  const auto place = between(stand_off);
  const auto& rows = start_effects[index(quantity)];
  double squares = 0.0;
  for (std::size_t axis = 0; axis < normals.dimensions; ++axis) {
    double effect = 0.0;
    for (std::size_t k = 0; k < place.node.size(); ++k) {
      effect += place.weight[k] * rows[place.node[k]][axis];
    }
    squares += effect * effect;
  }
  return std::sqrt(squares);
}

Outlook look_out(const Survey& survey, std::span<const double> stand_offs, spread::Points normals) {
  if (stand_offs.size() < 2 || !std::is_sorted(stand_offs.begin(), stand_offs.end())) {
    throw std::logic_error("an outlook needs two or more rising stand-offs");
  }
  const auto limit = limited(survey.threads);
  Outlook outlook;
  outlook.normals = std::move(normals);
  for (std::size_t i = 0; i < outlook.normals.count; ++i) {
    auto row = outlook.normals.row(i);
    for (std::size_t j = 0; j < row.size(); ++j) {
      if (survey.plan.axes[j].varies == spread::Varies::start) row[j] = 0.0;
    }
  }
  assemble_members(outlook, survey);
  std::vector<std::size_t> all;
  for (const double stand_off : stand_offs) {
    all.push_back(outlook.nodes.size());
    make_room(outlook, outlook.nodes.size(), stand_off, survey.plan.axes.size());
    solve_node(outlook, survey, outlook.nodes.size() - 1);
  }
  differentiate(outlook, survey, all);
  return outlook;
}

Outlook look_out(const Survey& survey, std::span<const double> stand_offs) {
  return look_out(
      survey,
      stand_offs,
      spread::normal_points(
          {.count = survey.members, .dimensions = survey.plan.axes.size(), .seed = survey.seed}));
}

void add_node(Outlook& outlook, const Survey& survey, double stand_off) {
  constexpr double same = 1e-4;
  const auto limit = limited(survey.threads);
  const auto above = std::lower_bound(outlook.nodes.begin(), outlook.nodes.end(), stand_off);
  if (above != outlook.nodes.end() && *above - stand_off < same) return;
  if (above != outlook.nodes.begin() && stand_off - *std::prev(above) < same) return;
  const auto node = static_cast<std::size_t>(above - outlook.nodes.begin());
  make_room(outlook, node, stand_off, survey.plan.axes.size());
  solve_node(outlook, survey, node);
  const std::array<std::size_t, 1> only{node};
  differentiate(outlook, survey, only);
}

std::vector<double> usual_nodes(const Requirement& requirement) {
  constexpr int steps = 11;
  constexpr double gathering = 1.5;  // near the mouth, where wake and back-pressure turn
  constexpr double fine = 0.58;      // [m], within which jets of such fans turn and fade
  constexpr double growth = 1.25;    // of the steps beyond, where they only fade
  std::vector<double> nodes;
  const double travel = requirement.farthest - requirement.nearest;
  for (int i = 0; i <= steps; ++i) {
    const double share = std::pow(static_cast<double>(i) / steps, gathering);
    nodes.push_back(requirement.nearest + share * std::min(travel, fine));
  }
  double step = nodes[steps] - nodes[steps - 1];
  while (nodes.back() < requirement.farthest) {
    step *= growth;
    const double next = nodes.back() + step;
    const bool last = next > requirement.farthest - 0.5 * step;
    nodes.push_back(last ? requirement.farthest : next);
  }
  return nodes;
}

}  // namespace windgap::placement
