#include "report/text.h"

#include <fmt/format.h>

#include <cmath>

#include "report/cautions.h"
#include "report/shown.h"
#include "report/verdict.h"
#include "report/weight.h"

namespace windgap::report {
namespace {

using units::Dimension;

constexpr std::size_t screen = 80;
constexpr std::size_t indent = 2;

std::string paragraph(const std::vector<std::string>& sentences) {
  return wrapped(fmt::format("{}", fmt::join(sentences, " ")), indent, screen);
}

std::string findings_text(const Outcome& outcome) {
  TextTable table({Align::left, Align::right, Align::left}, indent);
  for (const auto& finding : findings(outcome)) {
    table.add({finding.label, finding.value, finding.remark});
  }
  return table.text();
}

std::string constraints_text(const Outcome& outcome) {
  TextTable table({Align::left, Align::right, Align::left, Align::right, Align::left}, indent);
  for (const auto& line : constraint_lines(outcome)) {
    const auto* const mark = !line.holds ? "short" : (line.active ? "holds the mount" : "");
    table.add({line.label, line.value, line.limit, line.slack, mark});
  }
  return table.text();
}

std::string constraints_head(const Outcome& outcome) {
  const Shown shown(outcome.bench.system);
  const auto& advice = outcome.answer.advice;
  if (outcome.asked || !advice.feasible) {
    return fmt::format("Limits at {}, and what is to spare:\n",
                       shown.length(shown_row(outcome).stand_off));
  }
  return fmt::format("Limits at the far end, {}, and what is to spare:\n",
                     shown.length(advice.edge));
}

std::string assumed_text(const Outcome& outcome) {
  constexpr std::size_t most = 3;
  const auto& assumed = outcome.bench.assumed;
  if (assumed.empty()) return "Assumed: nothing.\n";
  std::vector<std::string> named;
  for (const auto& weighed : weigh_assumptions(outcome)) {
    if (named.size() == most || !std::isfinite(weighed.effect)) break;
    named.push_back(fmt::format("{} {}", weighed.value.key, weighed.value.value));
  }
  const auto start = fmt::format("Assumed: {} value{} (`check` lists them all)",
                                 assumed.size(),
                                 assumed.size() == 1 ? "" : "s");
  if (named.empty()) return start + ".\n";
  return wrapped(fmt::format("{}; most hangs on {}.", start, fmt::join(named, ", ")), 0, screen);
}

std::string cautions_text() {
  std::string list;
  for (const auto& caution : cautions()) {
    if (!list.empty()) list += "; ";
    list += caution.brief;
  }
  return wrapped(fmt::format("Mind: {}.", list), 0, screen);
}

/// A column of one quantity: its unit in the head, the same digits in every row.
struct Column {
  std::string name;
  units::Unit unit;
  int decimals = 0;
  [[nodiscard]] std::string cell(double value) const {
    if (!std::isfinite(value)) return "-";
    const double shown = (value - unit.offset) / unit.factor;
    const auto text = fmt::format("{:.{}f}", shown, decimals);
    // A rounded nothing has no sign.
    return text.find_first_not_of("-0.") == std::string::npos
               ? fmt::format("{:.{}f}", 0.0, decimals)
               : text;
  }
};

/// Digits so that the largest value shows `significant` of them.
Column column(std::string name, Dimension dimension, double largest, units::System system) {
  constexpr int significant = 4;
  Column made{.name = std::move(name), .unit = units::display_unit(largest, dimension, system)};
  const double size = std::abs(largest / made.unit.factor);
  const int whole = size < 1.0 ? 1 : 1 + static_cast<int>(std::floor(std::log10(size)));
  made.decimals = std::max(0, significant - whole);
  return made;
}

std::string verdict_of(const placement::Row& row) {
  if (row.feasible) return "yes";
  for (const auto& state : row.constraints) {
    if (state.constraint != placement::Constraint::bracket_travel && state.slack < 0.0) {
      return fmt::format("no: {}", label(state.constraint));
    }
  }
  return "no: not solved";
}

/// Columns of a sweep in the units that suit its largest values.
struct SweepColumns {
  Column distance, airflow, other, pressure, rotation, back, loss;
};

SweepColumns sweep_columns(const Survey& survey, units::System system) {
  double airflow = 0.0;
  double pressure = 0.0;
  double back = 0.0;
  for (const auto& row : survey.rows) {
    airflow = std::max(airflow, row.delivery.airflow);
    pressure = std::max(pressure, row.delivery.total_pressure);
    back = std::max(back, row.delivery.back_pressure);
  }
  const double farthest = survey.rows.back().stand_off;
  SweepColumns columns{.distance = column("stand-off", Dimension::length, farthest, system),
                       .airflow = column("airflow", Dimension::mass_flow, airflow, system),
                       .other = column("", Dimension::mass_flow, airflow, system),
                       .pressure = column("pressure", Dimension::pressure, pressure, system),
                       .rotation = column("rotor", Dimension::angular_speed, 1.0, system),
                       .back = {.name = "on fan",
                                .unit = units::display_unit(pressure, Dimension::pressure, system)},
                       .loss = column("running", Dimension::ratio, 1.0, system)};
  columns.back.decimals = columns.pressure.decimals;
  columns.rotation.decimals = 0;
  columns.loss.decimals = 3;
  columns.distance.decimals = system == units::System::metric ? 1 : 2;
  return columns;
}

std::string given_text(const casefile::Case& bench) {
  TextTable table({Align::left, Align::left, Align::left}, indent);
  for (const auto& value : bench.given) {
    table.add({value.key, value.shown, casefile::to_text(value.place)});
  }
  return table.text();
}

}  // namespace

std::string place_text(const Outcome& outcome) {
  const auto limits = what_limits(outcome);
  std::string text;
  if (!outcome.bench.title.empty()) text += outcome.bench.title + "\n\n";
  text += headline(outcome) + "\n";
  text += paragraph(where_to_drill(outcome));
  if (!limits.empty()) text += paragraph(limits);
  text += "\n";
  if (!fits(outcome) && !outcome.asked) {
    const Shown shown(outcome.bench.system);
    text += fmt::format("At {}:\n", shown.length(shown_row(outcome).stand_off));
  }
  text += findings_text(outcome);
  text += paragraph({running_cost(outcome)});
  text += "\nHow sure:\n";
  text += paragraph(how_sure(outcome));
  text += "\n";
  text += constraints_head(outcome) + constraints_text(outcome);
  text += "\n";
  text += assumed_text(outcome);
  for (const auto& warning : warnings(outcome)) {
    text += wrapped("Warning: " + warning, 0, screen);
  }
  return text + cautions_text();
}

std::string sweep_text(const casefile::Case& bench,
                       const placement::Answer& answer,
                       const Survey& survey) {
  const auto columns = sweep_columns(survey, bench.system);
  const bool others = !survey.nozzle_like.empty();
  std::vector<Align> aligns(others ? 8 : 6, Align::right);
  aligns.push_back(Align::left);
  TextTable table(aligns);
  const auto unit = [](const Column& c) { return std::string(c.unit.symbol); };
  std::vector<std::string> names{columns.distance.name, columns.airflow.name};
  std::vector<std::string> symbols{unit(columns.distance), unit(columns.airflow)};
  if (others) {
    names.insert(names.end(), {"nozzle", "propeller"});
    symbols.insert(symbols.end(), 2, unit(columns.airflow));
  }
  for (const auto* c : {&columns.pressure, &columns.rotation, &columns.back, &columns.loss}) {
    names.push_back(c->name);
    symbols.push_back(unit(*c));
  }
  names.emplace_back("starts it");
  table.add(names);
  table.add(symbols);
  for (std::size_t i = 0; i < survey.rows.size(); ++i) {
    const auto& row = survey.rows[i];
    std::vector<std::string> cells{columns.distance.cell(row.stand_off),
                                   columns.airflow.cell(row.delivery.airflow)};
    if (others) {
      cells.push_back(columns.airflow.cell(survey.nozzle_like[i].airflow));
      cells.push_back(columns.airflow.cell(survey.propeller_like[i].airflow));
    }
    cells.push_back(columns.pressure.cell(row.delivery.total_pressure));
    const bool rotor = row.delivery.settling != rig::Settling::no_rotor;
    cells.push_back(rotor ? columns.rotation.cell(row.delivery.rotor_speed) : "-");
    cells.push_back(columns.back.cell(row.delivery.back_pressure));
    cells.push_back(columns.loss.cell(row.obstruction.running_loss));
    cells.push_back(verdict_of(row));
    table.add(cells);
  }
  std::string text = table.text();
  if (!answer.jet_known) {
    text += "\n";
    text += wrapped(
        fmt::format(
            "Computed with the {} jet, as `place` advises; the columns nozzle and propeller "
            "bound what an unmeasured jet may bring.",
            answer.choice == rig::JetChoice::propeller_like ? "propeller-like" : "nozzle-like"),
        0,
        screen);
  }
  return text;
}

std::string sweep_csv(const Survey& survey) {
  std::string text =
      "stand_off_m,airflow_kg_s,total_pressure_pa,windmill_rpm,fan_back_pressure_pa,running_loss,"
      "feasible,airflow_nozzle_like_kg_s,airflow_propeller_like_kg_s,airflow_estimated_kg_s\n";
  const auto cell = [](double value) {
    return std::isfinite(value) ? fmt::format("{}", value) : std::string();
  };
  for (std::size_t i = 0; i < survey.rows.size(); ++i) {
    const auto& row = survey.rows[i];
    const auto& delivery = row.delivery;
    const auto other = [&](const std::vector<rig::Delivery>& deliveries) {
      return deliveries.empty() ? std::string() : cell(deliveries[i].airflow);
    };
    const bool rotor = delivery.settling != rig::Settling::no_rotor;
    text += fmt::format("{},{},{},{},{},{},{},{},{},{}\n",
                        cell(row.stand_off),
                        cell(delivery.airflow),
                        cell(delivery.total_pressure),
                        rotor ? cell(rpm(delivery.rotor_speed)) : std::string(),
                        cell(delivery.back_pressure),
                        cell(row.obstruction.running_loss),
                        row.feasible ? 1 : 0,
                        other(survey.nozzle_like),
                        other(survey.propeller_like),
                        other(survey.estimated));
  }
  return text;
}

std::string check_text(const casefile::Case& bench) {
  std::string text = bench.title.empty() ? std::string() : bench.title + "\n\n";
  text += "Given\n";
  text += given_text(bench);
  text += fmt::format("\nAssumed ({})\n", bench.assumed.size());
  for (const auto& assumed : bench.assumed) {
    text += wrapped(fmt::format("{}: {}", assumed.key, assumed.value), indent, screen);
    text += wrapped(assumed.source, 2 * indent, screen);
  }
  for (const auto& warning : bench.warnings) {
    text += "\n";
    text += wrapped("Warning: " + warning, 0, screen);
  }
  return text;
}

}  // namespace windgap::report
