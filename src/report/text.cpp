#include "report/text.h"

#include <fmt/format.h>

#include <cmath>

#include "report/cautions.h"
#include "report/shown.h"
#include "report/start_need.h"
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
    const auto* const held = outcome.chance ? "ensemble" : "holds it";
    const auto* const mark = !line.holds ? "short" : (line.active ? held : "");
    table.add({line.label, line.value, line.limit, line.slack, mark});
  }
  return table.text();
}

std::string constraints_head(const Outcome& outcome) {
  const Shown shown(outcome.bench.system);
  const auto& advice = outcome.answer.advice;
  const auto* const whose = !outcome.chance            ? ""
                            : outcome.answer.jet_known ? ", of the nominal bench"
                                                       : ", of the likeliest jet";
  if (outcome.asked || !advice.feasible) {
    return fmt::format("Limits at {}{}, and what is to spare:\n",
                       shown.length(shown_row(outcome).stand_off),
                       whose);
  }
  return fmt::format(
      "Limits at the far end, {}{}, and what is to spare:\n", shown.length(advice.edge), whose);
}

std::string assumed_text(const Outcome& outcome) {
  constexpr std::size_t most = 3;
  constexpr double least = 1e-3;
  const Shown shown(outcome.bench.system);
  const auto& assumed = outcome.bench.assumed;
  if (assumed.empty()) return "Assumed: nothing.\n";
  std::vector<std::string> named;
  for (const auto& weighed : weigh_assumptions(outcome)) {
    if (named.size() == most || !(weighed.effect >= least)) break;
    named.push_back(fmt::format(
        "{} {} ({})", weighed.value.key, weighed.value.value, shown.share(weighed.effect)));
  }
  std::string text = fmt::format(
      "Assumed: {} value{}, listed by `check`.", assumed.size(), assumed.size() == 1 ? "" : "s");
  if (!named.empty()) {
    text += fmt::format(" Heaviest, with what being off moves the airflow by: {}.",
                        fmt::join(named, ", "));
  }
  return wrapped(text, 0, screen);
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
  double rounding = 0.0;  ///< whole steps to show; 0: as the decimals say
  [[nodiscard]] std::string cell(double value) const {
    if (!std::isfinite(value)) return "-";
    const double exact = (value - unit.offset) / unit.factor;
    const double shown = rounding > 0.0 ? rounding * std::round(exact / rounding) : exact;
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

std::string_view brief_label(placement::Constraint constraint) {
  switch (constraint) {
    case placement::Constraint::starting_airflow:
      return "airflow";
    case placement::Constraint::lightoff_speed:
      return "rotor speed";
    case placement::Constraint::lightoff_velocity:
      return "flame holder";
    case placement::Constraint::fan_stall:
      return "fan stalls";
    case placement::Constraint::drive_current:
      return "pack current";
    case placement::Constraint::burst_heating:
      return "winding";
    case placement::Constraint::running_loss:
      return "running loss";
    case placement::Constraint::bracket_travel:
      break;
  }
  return "travel";
}

std::string verdict_of(const placement::Row& row) {
  if (!row.delivery.converged) return "did not settle";
  if (row.feasible) return "yes";
  for (const auto& state : row.constraints) {
    if (state.constraint != placement::Constraint::bracket_travel && state.slack < 0.0) {
      return fmt::format("no, {}", brief_label(state.constraint));
    }
  }
  return "no";
}

/// Columns of a sweep in the units that suit its largest values.
struct SweepColumns {
  Column distance, airflow, pressure, rotation, back, loss;
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
                       .pressure = column("pressure", Dimension::pressure, pressure, system),
                       .rotation = column("rotor", Dimension::angular_speed, 1.0, system),
                       .back = {.name = "at fan",
                                .unit = units::display_unit(pressure, Dimension::pressure, system)},
                       .loss = column("loss run", Dimension::ratio, 1.0, system)};
  columns.back.decimals = columns.pressure.decimals;
  columns.rotation.decimals = 0;
  columns.rotation.rounding = 10.0;
  columns.loss.decimals = 3;
  columns.distance.decimals = system == units::System::metric ? 1 : 2;
  return columns;
}

/// `fan` of `fan.measured.thrust`; the whole key where there is no point.
std::string section_of(const std::string& key) { return key.substr(0, key.find('.')); }

/// The key inside its section.
std::string rest_of(const std::string& key) {
  const auto point = key.find('.');
  return point == std::string::npos ? key : key.substr(point + 1);
}

/// Rows of a table under the head of each section; long texts on lines of their own.
std::string given_text(const casefile::Case& bench) {
  constexpr std::size_t longest = 20;
  std::string text;
  std::string section;
  TextTable table({Align::left, Align::right, Align::left}, indent);
  const auto close = [&] {
    text += table.text();
    table = TextTable({Align::left, Align::right, Align::left}, indent);
  };
  for (const auto& value : bench.given) {
    if (section_of(value.key) != section) {
      close();
      section = section_of(value.key);
      if (section != value.key) text += section + "\n";
    }
    const auto place = casefile::to_text(brief(value.place));
    if (width_of(value.shown) <= longest) {
      table.add({rest_of(value.key), value.shown, place});
    } else {
      close();
      text += wrapped(
          fmt::format("{}: {} ({})", rest_of(value.key), value.shown, place), indent, screen);
    }
  }
  close();
  return text;
}

/// What follows from the values before any distance is chosen.
std::string derived_text(const casefile::Case& bench) {
  const Shown shown(bench.system);
  const auto rig = start::assemble(
      bench.parts, bench.models.rig, rig::JetChoice::estimated, casefile::deriving(bench));
  TextTable table({Align::left, Align::right, Align::left}, indent);
  table.add({"air density", shown.of(rig.ambient.density, Dimension::density), ""});
  table.add({"fan's exit velocity", shown.speed(rig.open.exit_velocity), "blowing free"});
  table.add({"its dynamic pressure", shown.pressure(rig.open.dynamic_head), ""});
  table.add({"its thrust", shown.of(rig.open.thrust, Dimension::force), "as believed"});
  table.add({"jet", shown.share(rig.propeller_share), "propeller-like"});
  const bool startable = std::isfinite(rig.starting_airflow);
  table.add({"starting airflow",
             startable ? shown.airflow(rig.starting_airflow) : "none",
             startable ? "cold, without margin" : "no air supply the model knows starts it"});
  if (std::isfinite(rig.lightoff_speed)) {
    table.add({"light-off speed", shown.rotation(rig.lightoff_speed), ""});
  }
  return table.text();
}

}  // namespace

std::string place_text(const Outcome& outcome) {
  const auto limits = what_limits(outcome);
  std::string text;
  if (!outcome.bench.title.empty()) text += outcome.bench.title + "\n\n";
  text += wrapped(headline(outcome), 0, screen);
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
  if (const auto confirmation = confirmed(outcome); !confirmation.empty()) {
    text += paragraph(confirmation);
  }
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
  const bool propeller = answer.choice == rig::JetChoice::propeller_like;
  const auto& other = propeller ? survey.nozzle_like : survey.propeller_like;
  const auto unit = [](const Column& c) { return std::string(c.unit.symbol); };
  std::vector<std::string> names{columns.distance.name, columns.airflow.name};
  std::vector<std::string> symbols{unit(columns.distance), unit(columns.airflow)};
  if (!other.empty()) {
    names.emplace_back(propeller ? "nozzle" : "propeller");
    symbols.push_back(unit(columns.airflow));
  }
  for (const auto* c : {&columns.pressure, &columns.rotation, &columns.back, &columns.loss}) {
    names.push_back(c->name);
    symbols.push_back(unit(*c));
  }
  names.emplace_back("starts it");
  std::vector<Align> aligns(names.size() - 1, Align::right);
  aligns.push_back(Align::left);
  TextTable table(aligns);
  table.add(names);
  table.add(symbols);
  for (std::size_t i = 0; i < survey.rows.size(); ++i) {
    const auto& row = survey.rows[i];
    const bool rotor = row.delivery.settling != rig::Settling::no_rotor;
    std::vector<std::string> cells{columns.distance.cell(row.stand_off),
                                   columns.airflow.cell(row.delivery.airflow)};
    if (!other.empty()) cells.push_back(columns.airflow.cell(other[i].airflow));
    cells.push_back(columns.pressure.cell(row.delivery.total_pressure));
    cells.push_back(rotor ? columns.rotation.cell(row.delivery.rotor_speed) : "-");
    cells.push_back(columns.back.cell(row.delivery.back_pressure));
    cells.push_back(columns.loss.cell(row.obstruction.running_loss));
    cells.push_back(verdict_of(row));
    table.add(cells);
  }
  std::string text = table.text();
  if (!other.empty()) {
    text += "\n";
    text += wrapped(fmt::format("Nobody measured this jet: computed with the {} bound, as `place` "
                                "advises; the column {} has the airflow of the other bound.",
                                propeller ? "propeller-like" : "nozzle-like",
                                propeller ? "nozzle" : "propeller"),
                    0,
                    screen);
  }
  return text;
}

std::string air_alone(const Outcome& outcome, const Confirmation& run) {
  return wrapped(
      fmt::format("\"Starts it\" is of air alone: a start run in time at {} does not catch "
                  "({}). `windgap spin` shows why.",
                  Shown(outcome.bench.system).length(run.runs.front().stand_off),
                  run.runs.front().brief),
      0,
      screen);
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
  std::string text = "Given, and where it stands\n\n";
  text += given_text(bench);
  text += fmt::format(
      "\nAssumed: {} value{}\n\n", bench.assumed.size(), bench.assumed.size() == 1 ? "" : "s");
  for (const auto& assumed : bench.assumed) {
    text += wrapped(fmt::format("{}: {}", assumed.key, assumed.value), 0, screen);
    text += wrapped(assumed.source, indent, screen);
  }
  if (!bench.cool.assumed.empty()) text += "\nAssumed of the hot engine, for `cool`\n\n";
  for (const auto& assumed : bench.cool.assumed) {
    text += wrapped(fmt::format("{}: {}", assumed.key, assumed.value), 0, screen);
    text += wrapped(assumed.source, indent, screen);
  }
  text += "\nWhat follows\n\n";
  text += derived_text(bench);
  for (const auto& warning : bench.warnings) {
    text += "\n";
    text += wrapped("Warning: " + warning, 0, screen);
  }
  return text;
}

}  // namespace windgap::report
