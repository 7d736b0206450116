#include "report/outcome.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <memory>
#include <stdexcept>

#include "units/format.h"

namespace windgap::report {

const placement::Row& shown_row(const Outcome& outcome) {
  return outcome.asked ? *outcome.asked : outcome.answer.advice.mount;
}

placement::ConstraintStates shown_constraints(const Outcome& outcome) {
  if (!outcome.asked) return outcome.answer.advice.constraints;
  auto states = outcome.asked->constraints;
  for (auto& state : states) state.active = state.slack < 0.0;
  return states;
}

bool fits(const Outcome& outcome) {
  if (!outcome.asked) return outcome.answer.advice.feasible;
  return outcome.asked->feasible && reliable_where_asked(outcome);
}

rig::JetChoice shown_jet(const Outcome& outcome) {
  const auto& answer = outcome.answer;
  return outcome.chance && !answer.jet_known ? rig::JetChoice::estimated : answer.choice;
}

bool refuted(const Outcome& outcome) {
  return outcome.confirmation && !outcome.confirmation->runs.empty() &&
         !outcome.confirmation->runs.front().caught;
}

bool reliable_where_asked(const Outcome& outcome) {
  if (!outcome.asked || !outcome.chance) return true;
  const auto& slots = outcome.chance->slots;
  return std::any_of(slots.begin(), slots.end(), [&](const auto& slot) {
    return slot.near <= outcome.asked->stand_off && outcome.asked->stand_off <= slot.far;
  });
}

bool outside_travel(const Outcome& outcome) {
  if (!outcome.asked) return false;
  const auto& need = outcome.bench.requirement;
  return outcome.asked->stand_off < need.nearest || outcome.asked->stand_off > need.farthest;
}

bool within_slots(const placement::Placement& placement, double stand_off) {
  return std::any_of(placement.slots.begin(), placement.slots.end(), [&](const auto& slot) {
    return slot.near <= stand_off && stand_off <= slot.far;
  });
}

std::vector<double> distances(const placement::Requirement& requirement, double step) {
  const double nearest = requirement.nearest;
  const double travel = requirement.farthest - nearest;
  if (!(step > 0.0) || !(travel / step < static_cast<double>(most_distances))) {
    throw std::logic_error("a sweep needs a positive step that is not too small");
  }
  std::vector<double> list;
  // A step that divides the travel but for rounding must not leave a second point at the end.
  constexpr double rounding = 1e-9;
  for (std::size_t i = 0; static_cast<double>(i) * step < travel * (1.0 - rounding); ++i) {
    list.push_back(nearest + static_cast<double>(i) * step);
  }
  list.push_back(requirement.farthest);
  return list;
}

double usual_step(const placement::Requirement& requirement, units::System system) {
  const double nearest = requirement.nearest;
  constexpr double most_rows = 32.0;
  constexpr std::array round{1.0, 2.0, 5.0, 10.0};
  const double unit = units::display_unit(nearest, units::Dimension::length, system).factor;
  const double least = (requirement.farthest - nearest) / unit / most_rows;
  const double decade = std::pow(10.0, std::floor(std::log10(least)));
  for (const double digit : round) {
    if (digit * decade >= least) return digit * decade * unit;
  }
  return round.back() * decade * unit;
}

Survey survey(const casefile::Case& bench,
              const placement::Answer& answer,
              const std::vector<double>& stand_offs) {
  Survey result;
  result.rows.reserve(stand_offs.size());
  for (const double stand_off : stand_offs) {
    result.rows.push_back(placement::look(answer.rig, stand_off, bench.requirement));
    auto& delivery = result.rows.back().delivery;
    if (delivery.converged) continue;
    // A number that did not settle is no number.
    delivery.airflow = delivery.rotor_speed = delivery.total_pressure = delivery.back_pressure =
        unset;
  }
  if (answer.jet_known) return result;
  const auto with_jet = [&](rig::JetChoice choice, std::vector<rig::Delivery>& deliveries) {
    deliveries.reserve(stand_offs.size());
    if (choice == answer.choice) {
      for (const auto& row : result.rows) deliveries.push_back(row.delivery);
      return;
    }
    const auto other =
        placement::as_placed(rig::assemble(bench.parts, bench.models.rig, choice), answer.advice);
    for (const double stand_off : stand_offs) deliveries.push_back(rig::deliver(other, stand_off));
  };
  with_jet(rig::JetChoice::nozzle_like, result.nozzle_like);
  with_jet(rig::JetChoice::propeller_like, result.propeller_like);
  with_jet(rig::JetChoice::estimated, result.estimated);
  return result;
}

casefile::Place brief(const casefile::Place& place) {
  if (!place.origin || place.line == 0) return place;
  const std::filesystem::path file(*place.origin);
  const auto folder = file.parent_path().filename();
  auto shorter = place;
  shorter.origin = std::make_shared<const std::string>((folder / file.filename()).string());
  return shorter;
}

}  // namespace windgap::report
