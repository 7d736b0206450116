#include <fmt/format.h>
#include <gtest/gtest.h>

#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/app.h"
#include "casefile/case.h"
#include "start/need.h"
#include "start/starting_airflow.h"

/// models/start.md prints what the program answers: every row of its tables is made here anew.
namespace windgap::app {
namespace {

using Json = nlohmann::json;

const std::string demo = WINDGAP_SOURCE_DIR "/cases/demo.yaml";

std::string page() {
  std::ifstream file(WINDGAP_MODELS_DIR "/start.md");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

Json spin(const std::string& engine,
          const std::string& stand_off,
          const std::vector<std::string>& settings = {}) {
  const std::string model = "engine.model=engines/" + engine + ".yaml";
  std::vector<const char*> words{"windgap",
                                 "spin",
                                 demo.c_str(),
                                 "--models",
                                 WINDGAP_MODELS_DIR,
                                 "--set",
                                 model.c_str(),
                                 "--at",
                                 stand_off.c_str(),
                                 "--json"};
  for (const auto& setting : settings) {
    words.push_back("--set");
    words.push_back(setting.c_str());
  }
  std::ostringstream out;
  std::ostringstream err;
  (void)run(static_cast<int>(words.size()), words.data(), out, err);
  EXPECT_EQ(err.str(), "");
  return Json::parse(out.str());
}

/// Whether the page has the row; says the row where it has not.
void expect_row(const std::string& text, const std::string& row) {
  EXPECT_NE(text.find("\n" + row + "\n"), std::string::npos) << row;
}

double time_of(const Json& document, const std::string& event) {
  for (const auto& one : document.at("events")) {
    if (one.at("name") == event) return one.at("time_s");
  }
  return unset;
}

constexpr double kilo = 1e3;
constexpr double percent = 100.0;

/// "caught, 96 % over, 2.8 s", "hung, 47 % short".
std::string cell(const Json& document) {
  const double margin = document.at("margin");
  std::string text = fmt::format("{}, {:.0f} % {}",
                                 document.at("reason").get<std::string>(),
                                 percent * std::abs(margin),
                                 margin < 0.0 ? "short" : "over");
  if (document.at("caught").get<bool>()) {
    text +=
        fmt::format(", {:.1f} s", time_of(document, "fan_off") - time_of(document, "light_off"));
  }
  return text;
}

TEST(StartPage, SaysOfFourEnginesWhatSpinAnswers) {
  const auto text = page();
  for (const auto& [size, engine] : {std::pair{"34 mm", "shed-34"},
                                     {"46 mm", "garden-46"},
                                     {"52 mm", "barn-52"},
                                     {"76 mm", "field-76"}}) {
    std::vector<std::string> cells{size};
    for (const auto* stand_off : {"150mm", "500mm", "1000mm", "1500mm"}) {
      const auto document = spin(engine, stand_off);
      if (cells.size() == 1) {
        const double need = document.at("starting_airflow_kg_s");
        cells.push_back(fmt::format("{:.1f} g/s", kilo * need));
      }
      cells.push_back(cell(document));
    }
    expect_row(text, fmt::format("| {} |", fmt::join(cells, " | ")));
  }
}

TEST(StartPage, SaysOfKeroseneAfterGasWhatSpinAnswers) {
  const auto text = page();
  for (const auto& [size, engine] :
       {std::pair{"34 mm", "shed-34"}, {"46 mm", "garden-46"}, {"76 mm", "field-76"}}) {
    const auto document =
        spin(engine, "200mm", {"fuel.kind=kerosene", "fuel.preheat.greatest_flow=3 g/s"});
    const double lit = time_of(document, "light_off");
    expect_row(text,
               fmt::format("| {} | {:.1f} s | {:.1f} s | {:.1f} s |",
                           size,
                           time_of(document, "fan_off") - lit,
                           time_of(document, "changeover") - lit,
                           time_of(document, "idle_reached") - lit));
  }
}

TEST(StartPage, SaysOfTheLossesWhatSpinAnswers) {
  const auto text = page();
  const auto document = spin("garden-46", "150mm");
  for (const auto& loss : document.at("losses")) {
    const double rpm = loss.at("self_sustaining_rpm");
    const double airflow = loss.at("starting_airflow_kg_s");
    expect_row(text,
               fmt::format("| {} | {} | {:.1f} g/s |",
                           loss.at("added").get<std::string>(),
                           rpm > 0.0 ? fmt::format("{:.0f} rpm", rpm) : "any speed",
                           kilo * airflow));
  }
}

/// What a start rests on.
struct Start {
  rig::Parts parts;
  rig::Coefficients models;
  start::Setup setup;
  start::Coefficients start;
  start::FuelCoefficients fuels;
};

start::StartingAirflow need_of(Start bench) {
  (void)start::fill_fallbacks(bench.setup, bench.parts, bench.models, bench.start);
  const auto rig = rig::assemble(bench.parts, bench.models, rig::JetChoice::nozzle_like);
  return start::starting_airflow(
      rig, start::prepare(bench.setup, bench.parts, bench.models, bench.fuels, bench.start));
}

TEST(StartPage, SaysWhatTheAnswerHangsOn) {
  const auto bench =
      casefile::read_case(demo, {.models = {WINDGAP_MODELS_DIR}, .scope = {.start = true}});
  const Start usual{.parts = bench.parts,
                    .models = bench.models.rig,
                    .setup = bench.attempt->given.setup,
                    .start = bench.models.start,
                    .fuels = bench.models.fuels};
  const auto there = need_of(usual);
  const auto text = page();
  const auto rise = [](double value, double from) {
    return fmt::format("{:+.1f} %", percent * (value / from - 1.0));
  };
  const auto hangs = [&](const std::string& change, const std::function<void(Start&)>& make) {
    Start changed = usual;
    make(changed);
    const auto need = need_of(changed);
    expect_row(text,
               fmt::format("| {} | {} | {} |",
                           change,
                           rise(need.airflow, there.airflow),
                           rise(need.self_sustaining_speed, there.self_sustaining_speed)));
  };
  const auto oil = [](double warmer) {
    return [=](Start& s) { s.parts.engine.bearings.oil.inlet_temperature += warmer; };
  };
  hangs("oil entering 10 K colder", oil(-10.0));
  hangs("oil entering 10 K warmer", oil(10.0));
  const auto time = [](double seconds) {
    return [=](Start& s) { s.setup.sequence.spin_up_time = seconds; };
  };
  hangs("10 s allowed instead of 15 s", time(10.0));
  hangs("30 s allowed instead of 15 s", time(30.0));
  const auto gas = [](double cooler) {
    return
        [=](Start& s) { s.setup.gas_temperature_limit = s.start.gas_temperature_limit - cooler; };
  };
  hangs("gas limit 150 K lower", gas(150.0));
  hangs("gas limit 50 K lower", gas(50.0));
  hangs("gas limit 50 K higher", gas(-50.0));
  const auto air = [](double warmer) {
    return [=](Start& s) { s.parts.site.temperature += warmer; };
  };
  hangs("air 19 K warmer, oil as before", air(19.0));
  hangs("air 11 K colder, oil as before", air(-11.0));
  constexpr double more = 1.2;
  hangs("thrust bearing's land share +20 %",
        [](Start& s) { s.models.engine.bearings.thrust_land_share *= more; });
  hangs("turbine volute loss +20 %", [](Start& s) { s.models.engine.turbine.volute_loss *= more; });
  hangs("turbine passage loss +20 %",
        [](Start& s) { s.models.engine.turbine.passage_loss *= more; });
  hangs("heat transfer in the housing +20 %", [](Start& s) { s.start.volute_enhancement *= more; });
  hangs("fan off at 20 % instead of 10 % above omega_s",
        [](Start& s) { s.setup.speed_margin = 2.0 * s.start.speed_margin; });
  hangs("kerosene instead of propane",
        [](Start& s) { s.setup.fuel.kind = start::FuelKind::kerosene; });
}

}  // namespace
}  // namespace windgap::app
