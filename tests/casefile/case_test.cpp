#include "casefile/case.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <random>
#include <set>
#include <string>
#include <variant>
#include <vector>

#include "casefile/fields.h"
#include "folder.h"
#include "rig/rig.h"

namespace windgap::casefile {
namespace {

namespace fs = std::filesystem;

const fs::path good = fs::path(WINDGAP_SOURCE_DIR) / "tests/bad_cases/good.yaml";
constexpr double rpm = 2 * std::numbers::pi / 60;

Case read(const fs::path& path, std::vector<std::string> settings = {}) {
  ReadOptions options;
  options.installed = WINDGAP_MODELS_DIR;
  options.settings = std::move(settings);
  return read_case(path, options);
}

Case with(std::vector<std::string> settings) { return read(good, std::move(settings)); }

std::string refusal(std::vector<std::string> settings) {
  try {
    (void)with(std::move(settings));
  } catch (const InputError& error) {
    return error.what();
  }
  ADD_FAILURE() << "the case was accepted";
  return "";
}

const AssumedValue* assumed(const Case& bench, std::string_view key) {
  const auto found = std::find_if(bench.assumed.begin(),
                                  bench.assumed.end(),
                                  [&](const AssumedValue& value) { return value.key == key; });
  return found == bench.assumed.end() ? nullptr : &*found;
}

TEST(Case, IsReadIntoSi) {
  const auto bench = with({});
  EXPECT_EQ(bench.title, "Bench without a mistake");
  EXPECT_EQ(bench.fan_name, "Invented 64 mm fan");
  EXPECT_EQ(bench.engine_name, "Invented 46 mm engine");
  const auto& fan = std::get<fan::Fan>(bench.parts.source);
  EXPECT_DOUBLE_EQ(fan.datasheet.thrust, 1.9 * 9.80665);
  EXPECT_DOUBLE_EQ(fan.bore_diameter, 0.064);
  EXPECT_EQ(fan.vanes, fan::Vanes::yes);
  EXPECT_DOUBLE_EQ(bench.parts.drive.motor.speed_constant, 2100 * rpm);
  EXPECT_EQ(bench.parts.drive.pack.cells, 6);
  EXPECT_DOUBLE_EQ(bench.parts.engine.turbine.volute_area_over_radius, 0.016002);
  EXPECT_DOUBLE_EQ(bench.parts.engine.bearings.oil.hot.kinematic_viscosity, 5.4e-6);
  EXPECT_DOUBLE_EQ(bench.requirement.nearest, 0.02);
  EXPECT_DOUBLE_EQ(bench.requirement.farthest, 0.6);
}

TEST(Case, CanBeAssembledAsItIs) {
  const auto bench = with({});
  const auto rig = rig::assemble(bench.parts, bench.models.rig, rig::JetChoice::estimated);
  const auto delivery = rig::deliver(rig, 0.2);
  EXPECT_TRUE(std::isfinite(delivery.airflow));
  EXPECT_GT(delivery.airflow, 0.0);
}

TEST(Case, HoldsEveryKeyOfTheDesign) {
  const Folder folder;
  const auto bench = read(folder.write("case.yaml", R"(
title: Orchard bench
units: inch
site: { altitude: 220 m, temperature: 11 degC, wind: 1 m/s }
fan:
  stream: { exit_diameter: 60 mm, velocity: 72 m/s }
  outer_diameter: 66 mm
  parked: closed
  axis_readings: [ { at: 250 mm, pressure: 21 mbar } ]
engine:
  mouth: { diameter: 60 mm, lip_radius: 7 mm, face_diameter: 80 mm }
  resistance: { throat_diameter: 46 mm, loss_factor: 14 }
mount: { nearest: 20 mm, farthest: 600 mm, offset: 2 mm, tilt: 1 deg, slip: 3 mm,
         holes_to_exit: 12 mm, mouth_to_bench_datum: 3 in }
start: { airflow: 24 g/s, margin: 10 % }
running: { airflow: 240 g/s, allowed_loss: 0.5 % }
)"));
  EXPECT_EQ(bench.system, units::System::inch);
  EXPECT_DOUBLE_EQ(bench.parts.site.altitude, 220.0);
  EXPECT_DOUBLE_EQ(std::get<fan::Stream>(bench.parts.source).velocity, 72.0);
  EXPECT_DOUBLE_EQ(bench.parts.fan_outer_diameter, 0.066);
  EXPECT_EQ(bench.parts.parked, blockage::Parked::closed);
  ASSERT_EQ(bench.parts.axis_readings.size(), 1U);
  EXPECT_DOUBLE_EQ(bench.parts.axis_readings[0].distance, 0.25);
  EXPECT_DOUBLE_EQ(bench.parts.axis_readings[0].pressure, 2100.0);
  EXPECT_DOUBLE_EQ(bench.parts.engine.resistance->loss_factor, 14.0);
  EXPECT_DOUBLE_EQ(bench.parts.mounting.tilt, std::numbers::pi / 180);
  EXPECT_DOUBLE_EQ(bench.requirement.slip, 0.003);
  EXPECT_DOUBLE_EQ(bench.requirement.margin, 0.1);
  EXPECT_DOUBLE_EQ(bench.requirement.allowed_running_loss, 0.005);
  EXPECT_DOUBLE_EQ(bench.drilling.holes_to_exit, 0.012);
  EXPECT_DOUBLE_EQ(bench.drilling.mouth_to_bench_datum, 0.0762);
  EXPECT_DOUBLE_EQ(bench.parts.start.airflow, 0.024);
  EXPECT_DOUBLE_EQ(bench.parts.running.airflow, 0.24);
}

TEST(Case, ListsEveryDefaultWithItsSource) {
  const auto bench = with({});
  for (const auto* const key : {"site.altitude",
                                "site.temperature",
                                "site.wind",
                                "site.relative_humidity",
                                "fan.parked",
                                "fan.exit_diameter",
                                "fan.motor.mass",
                                "fan.rotation",
                                "drive.throttle",
                                "drive.pack.chemistry",
                                "drive.pack.state_of_charge",
                                "drive.pack.cell_resistance",
                                "drive.leads.resistance",
                                "engine.bearings.kind",
                                "engine.compressor.backsweep",
                                "engine.mouth.wall_thickness",
                                "mount.slip",
                                "mount.offset",
                                "mount.tilt",
                                "start.margin",
                                "start.airflow",
                                "start.duration",
                                "start.flame_holder_velocity",
                                "running.airflow",
                                "running.allowed_loss",
                                "running.nozzle_pressure_ratio"}) {
    ASSERT_NE(assumed(bench, key), nullptr) << key;
    EXPECT_FALSE(assumed(bench, key)->value.empty()) << key;
    EXPECT_FALSE(assumed(bench, key)->source.empty()) << key;
  }
}

TEST(Case, AssumesNothingThatIsGiven) {
  const auto bench = with({"site.altitude=220 m",
                           "start.margin=20 %",
                           "mount.slip=3 mm",
                           "engine.compressor.backsweep=30 deg",
                           "fan.parked=closed"});
  for (const auto& value : bench.assumed) {
    const auto same = [&](const GivenValue& given) { return given.key == value.key; };
    // A rotation counts for nothing without the engine's.
    if (value.key == "fan.rotation") continue;
    EXPECT_EQ(std::count_if(bench.given.begin(), bench.given.end(), same), 0) << value.key;
  }
}

TEST(Case, ShowsAssumptionsInThePersonsUnits) {
  EXPECT_EQ(assumed(with({}), "fan.exit_diameter")->value, "64 mm");
  EXPECT_EQ(assumed(with({"units=inch"}), "fan.exit_diameter")->value, "2.52 in");
}

TEST(Case, TakesRotationFromBothParts) {
  EXPECT_EQ(with({}).parts.sense, rig::Sense::unknown);
  EXPECT_EQ(with({"engine.rotation=clockwise"}).parts.sense, rig::Sense::same);
  EXPECT_EQ(with({"engine.rotation=counterclockwise"}).parts.sense, rig::Sense::opposite);
  EXPECT_EQ(assumed(with({"engine.rotation=clockwise"}), "fan.rotation"), nullptr);
}

TEST(Case, FreesThrottleAndNozzleOverARange) {
  const auto bench = with({"drive.throttle=[60 %, 100 %]", "fan.nozzle_diameter=[45 mm, 60 mm]"});
  ASSERT_TRUE(bench.requirement.throttle && bench.requirement.nozzle);
  EXPECT_DOUBLE_EQ(bench.requirement.throttle->lower, 0.6);
  EXPECT_DOUBLE_EQ(bench.requirement.throttle->upper, 1.0);
  EXPECT_DOUBLE_EQ(bench.requirement.nozzle->lower, 0.045);
  EXPECT_DOUBLE_EQ(std::get<fan::Fan>(bench.parts.source).nozzle_diameter, 0.06);
  EXPECT_FALSE(with({}).requirement.throttle || with({}).requirement.nozzle);
}

TEST(Case, TakesAreaOverRadiusFromItsParts) {
  const auto bench = with({"engine.turbine.volute_area_over_radius=",
                           "engine.compressor.volute_area=5 ± 0.3 cm2",
                           "engine.compressor.volute_radius=40 ± 1.6 mm"});
  EXPECT_DOUBLE_EQ(bench.parts.engine.turbine.volute_area_over_radius, 0.016002);
  EXPECT_DOUBLE_EQ(bench.parts.engine.compressor.volute_area_over_radius, 0.0125);
  const auto found = std::find_if(
      bench.tolerances.begin(), bench.tolerances.end(), [](const Tolerance& tolerance) {
        return tolerance.key == "engine.compressor.volute_area_over_radius";
      });
  ASSERT_NE(found, bench.tolerances.end());
  EXPECT_NEAR(found->half_width, 0.0125 * std::hypot(0.06, 0.04), 1e-12);
}

TEST(Case, IsCalibratedByAMeasuredRun) {
  const auto bench = with({"engine.measured={total_pressure: 20 mbar, mass_flow: 21 g/s}"});
  ASSERT_TRUE(bench.calibration);
  EXPECT_NEAR(bench.calibration->mass_flow, 0.021, 1e-6);
  EXPECT_NE(bench.parts.engine.calibration.turbine_area, 1.0);
}

TEST(Case, NamesTheSettingThatIsWrong) {
  EXPECT_EQ(refusal({"mount.nearest=20"}).substr(0, 47),
            "--set mount.nearest: read \"20\": the unit is mis");
  EXPECT_EQ(refusal({"mount.tlit=1 deg"}), "--set mount.tlit: unknown key; did you mean tilt?");
  EXPECT_EQ(refusal({"engine.compressor.inducer_diameter=3 in"}),
            "--set engine.compressor.inducer_diameter: read \"3 in\": this must be less than "
            "exducer_diameter; allowed: less than 2.559 in");
  EXPECT_NE(refusal({"mount"}).find("key=value"), std::string::npos);
}

TEST(Case, WarnsOfKeysThatAMeasuredEndReplaces) {
  const auto bench = with({"fan.stream={exit_diameter: 60 mm, velocity: 72 m/s}",
                           "engine.resistance={throat_diameter: 46 mm, loss_factor: 14}",
                           "start.airflow=24 g/s"});
  const auto text = fmt::format("{}", fmt::join(bench.warnings, "\n"));
  EXPECT_NE(text.find("fan: thrust, voltage, current, bore_diameter"), std::string::npos) << text;
  EXPECT_NE(text.find("engine.compressor: not used"), std::string::npos) << text;
  EXPECT_NE(text.find("drive: not used"), std::string::npos) << text;
}

TEST(Case, WarnsOfAReadingInTheHubsWake) {
  EXPECT_EQ(with({"fan.axis_readings=[{at: 250 mm, pressure: 21 mbar}]"}).warnings.size(), 0U);
  EXPECT_EQ(with({"fan.axis_readings=[{at: 100 mm, pressure: 21 mbar}]"}).warnings.size(), 1U);
  EXPECT_EQ(
      with({"fan.axis_readings=[{at: 100 mm, pressure: 21 mbar, radius: 22 mm}]"}).warnings.size(),
      0U);
}

TEST(Case, KeepsTheTextOfEveryFile) {
  const auto bench = with({});
  ASSERT_EQ(bench.files.size(), 4U);
  EXPECT_EQ(bench.files[0].name, good.string());
  EXPECT_NE(bench.files[1].text.find("bore_diameter: 64 mm"), std::string::npos);
}

TEST(Case, FindsComponentsInAModelsFolder) {
  const Folder folder;
  folder.write("extra/fans/mine.yaml", "{ stream: { exit_diameter: 60 mm, velocity: 70 m/s } }");
  const auto path =
      folder.write("cases/case.yaml",
                   "fan: fans/mine.yaml\n"
                   "engine: { resistance: { throat_diameter: 46 mm, loss_factor: 9 } }\n"
                   "mount: { nearest: 2 cm, farthest: 60 cm }\n"
                   "start: { airflow: 24 g/s }\n");
  ReadOptions options;
  options.installed = WINDGAP_MODELS_DIR;
  EXPECT_THROW((void)read_case(path, options), InputError);
  options.models = {folder.path() / "extra"};
  EXPECT_DOUBLE_EQ(std::get<fan::Stream>(read_case(path, options).parts.source).velocity, 70.0);
}

TEST(Case, SaysSoWhenTheModelsAreMissing) {
  ReadOptions options;
  options.installed = "/nowhere";
  try {
    (void)read_case(good, options);
    FAIL() << "the case was accepted without coefficients";
  } catch (const InputError& error) {
    const std::string text = error.what();
    const std::string once = "not found in any models folder";
    ASSERT_NE(text.find(once), std::string::npos);
    EXPECT_EQ(text.find(once), text.rfind(once)) << text;
    EXPECT_NE(text.find("/nowhere"), std::string::npos) << text;
  }
}

TEST(Case, RefusesATorrentOfErrorsInBoundedText) {
  const Folder folder;
  std::string text;
  for (int i = 0; i < 9000; ++i) text += fmt::format("key{}: 1\n", i);
  try {
    (void)read(folder.write("case.yaml", text));
    FAIL() << "the case was accepted";
  } catch (const InputError& error) {
    EXPECT_GT(error.problems().size(), 9000U);
    EXPECT_LT(std::string(error.what()).size(), 30000U);
  }
}

TEST(Fields, AreFoundByTheKeysOfTheCase) {
  auto bench = with({"fan.measured={thrust: 1.7 kg}", "site.altitude=100 m"});
  EXPECT_EQ(find_field(bench.parts, "fan.measured.thrust"),
            &std::get<fan::Fan>(bench.parts.source).measured.thrust);
  EXPECT_EQ(find_field(bench.parts, "fan.motor.resistance"), &bench.parts.drive.motor.resistance);
  EXPECT_EQ(find_field(bench.parts, "drive.throttle"), &bench.parts.throttle);
  EXPECT_EQ(find_field(bench.parts, "engine.mouth.wall_thickness"), &bench.parts.wall_thickness);
  EXPECT_EQ(find_field(bench.parts, "site.altitude"), &bench.parts.site.altitude);
  EXPECT_EQ(find_field(bench.parts, "fan"), nullptr);
  EXPECT_EQ(find_field(bench.parts, "fan.colour"), nullptr);
  EXPECT_EQ(find_field(bench.parts, "fan.stream.velocity"), nullptr);
  EXPECT_EQ(find_field(bench.parts, ""), nullptr);
}

TEST(Fields, OfAxisReadingsAndMeasuredEndsAreFoundToo) {
  auto bench = with({"fan.stream={exit_diameter: 60 mm, velocity: 72 m/s}",
                     "fan.axis_readings=[{at: 250 mm, pressure: 21 mbar}]",
                     "engine.resistance={throat_diameter: 46 mm, loss_factor: 14}",
                     "start.airflow=24 g/s"});
  EXPECT_EQ(find_field(bench.parts, "fan.stream.velocity"),
            &std::get<fan::Stream>(bench.parts.source).velocity);
  EXPECT_EQ(find_field(bench.parts, "fan.axis_readings.0.pressure"),
            &bench.parts.axis_readings[0].pressure);
  EXPECT_EQ(find_field(bench.parts, "engine.resistance.loss_factor"),
            &bench.parts.engine.resistance->loss_factor);
}

TEST(Fields, HoldTheValuesOfTheirTolerances) {
  auto bench = with({"fan.bore_diameter=64 ± 0.2 mm",
                     "engine.compressor.exducer_diameter=65 mm ± 1 %",
                     "site.temperature=50 ± 5 degF",
                     "start.airflow=24 ± 2 g/s"});
  EXPECT_EQ(bench.tolerances.size(), 4U);
  for (const auto& tolerance : bench.tolerances) {
    const double* const field = find_field(bench.parts, tolerance.key);
    ASSERT_NE(field, nullptr) << tolerance.key;
    EXPECT_EQ(*field, tolerance.value) << tolerance.key;
  }
}

}  // namespace
}  // namespace windgap::casefile
