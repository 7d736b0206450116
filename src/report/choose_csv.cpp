#include <fmt/format.h>

#include <cmath>

#include "report/choose.h"

namespace windgap::report {
namespace {

/// A text between quotes, as spreadsheets read it; what could be taken for a formula is led by a
/// quote.
std::string in_quotes(std::string_view text) {
  std::string cell = "\"";
  if (!text.empty() && std::string_view("=+-@").find(text.front()) != std::string_view::npos) {
    cell += '\'';
  }
  for (const char c : text) {
    if (c == '"') cell += '"';
    cell += c;
  }
  return cell + "\"";
}

std::string cell(double value) {
  if (std::isinf(value)) return "inf";
  return std::isfinite(value) ? fmt::format("{}", value) : std::string();
}

}  // namespace

std::string choose_csv(const ChooseOutcome& outcome) {
  std::string text =
      "rank,fan,pack,feasible,stand_off_m,clear,clear_stand_off_m,margin,airflow_kg_s,airflow_at_"
      "fan_length_kg_s,"
      "running_loss,power_w,peak_current_a,motor_current_a,controller_a,sag_v,winding_k,burst_"
      "allowed_s,"
      "starts_per_charge,mass_kg,thrust_n,note\n";
  std::size_t rank = 0;
  for (const auto& choice : outcome.ranking.choices) {
    const bool feasible = choice.fitness == choice::Fitness::fits;
    const auto there = [&](double value) { return feasible ? cell(value) : std::string(); };
    text += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n",
                        ++rank,
                        in_quotes(fan_label(outcome, choice)),
                        in_quotes(choice.pack ? pack_label(outcome, choice) : ""),
                        feasible ? 1 : 0,
                        there(choice.placement.stand_off),
                        choice.clear ? 1 : 0,
                        cell(choice.clear_stand_off),
                        there(choice.margin),
                        there(choice.placement.mount.delivery.airflow),
                        cell(choice.airflow_at_length),
                        there(choice.placement.mount.obstruction.running_loss),
                        cell(choice.power),
                        cell(choice.pack_current),
                        cell(choice.motor_current),
                        cell(choice.controller_size),
                        cell(choice.sag),
                        cell(choice.winding_temperature),
                        cell(choice.allowed_burst),
                        cell(choice.spending.starts),
                        cell(choice.mass),
                        cell(choice.thrust),
                        in_quotes(note(outcome, choice)));
  }
  return text;
}

}  // namespace windgap::report
