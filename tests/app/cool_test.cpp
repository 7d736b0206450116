// The purge after the run as a person gets it: the demo, a bench in inches, and one that cannot.
#include "app/cool.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <numeric>
#include <sstream>

#include "app/solve.h"
#include "cooling/settable.h"
#include "report/cool.h"
#include "report/html.h"
#include "report/shown.h"

namespace windgap::app {
namespace {

using Json = nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

struct Answered {
  report::Outcome outcome;
  report::Cooldown cooldown;
};

const Answered& answered(const std::string& name, const std::vector<std::string>& settings = {}) {
  static std::map<std::string, Answered> known;
  std::string key = name;
  for (const auto& setting : settings) key += " " + setting;
  const auto found = known.find(key);
  if (found != known.end()) return found->second;
  Options options;
  options.case_file = WINDGAP_SOURCE_DIR "/cases/" + name + ".yaml";
  options.models = {WINDGAP_MODELS_DIR};
  options.settings = settings;
  Answered made{.outcome = solve(options, {.start = true, .cooling = true}), .cooldown = {}};
  made.cooldown = cooldown_of(made.outcome);
  return known.emplace(key, std::move(made)).first->second;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

/// On one line, single spaces.
std::string flat(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  std::string one;
  for (const char c : text) {
    if (c != ' ' || one.empty() || one.back() != ' ') one += c;
  }
  return one;
}

std::string text_of(const Answered& a) { return report::cool_text(a.outcome, a.cooldown); }
Json json_of(const Answered& a) { return Json::parse(report::cool_json(a.outcome, a.cooldown)); }

const std::vector<std::string> shipped{"demo", "too-small"};

TEST(CoolAnswer, FitsOneScreenAndItsWidth) {
  for (const auto& name : shipped) {
    const auto lines = lines_of(text_of(answered(name)));
    EXPECT_LE(lines.size(), 48U) << name;
    for (const auto& line : lines) EXPECT_LE(report::width_of(line), 80U) << line;
  }
}

TEST(CoolAnswer, BeginsWithThreeLinesToTapeToTheBench) {
  const auto lines = lines_of(text_of(answered("demo")));
  ASSERT_GT(lines.size(), 5U);
  EXPECT_THAT(lines[2], HasSubstr("1. Fuel off, lines closed"));
  EXPECT_THAT(lines[3], HasSubstr("2. Fan at"));
  // The second goes on for one line where it costs the pack's reserve.
  EXPECT_THAT(lines[4], HasSubstr("from the pack's reserve."));
  EXPECT_THAT(lines[5], HasSubstr("3. Thermometer first: level "));
}

// The card is what hangs at the bench: it must not be kinder than the answer.
TEST(CoolAnswer, TheCardSaysWhichGlovesForHowLongAndHowSureTheTimeIs) {
  const auto card = [](const Answered& a) { return report::bench_card(a.outcome, a.cooldown); };
  const auto& demo = answered("demo");
  const auto usual = card(demo);
  EXPECT_THAT(usual[2],
              HasSubstr(fmt::format("later than planned by the {:.0f} % that times are sure to",
                                    100.0 * demo.cooldown.sensitivity.deviation)));
  const auto late = [&](double seconds) {
    return report::watch_time((1.0 + demo.cooldown.sensitivity.deviation) * seconds);
  };
  const auto lines = report::limit_lines(demo.outcome, demo.cooldown);
  EXPECT_THAT(usual[2], HasSubstr("level 2 gloves (15 s) after " + late(lines[1].planned)));
  EXPECT_THAT(usual[2], HasSubstr("bare hands (10 s) after " + late(lines[2].planned)));
  EXPECT_THAT(card(answered("demo", {"cool.glove_level=4", "cool.contact_time=1 min"}))[2],
              AllOf(HasSubstr("level 4 gloves (15 s)"), HasSubstr("bare hands (1 min)")));
}

// Nobody reads the bearing with a thermometer: where it is the last, the fan blows on in any case.
TEST(CoolAnswer, TheCardBlowsOnForABearingThatMayBeTheLast) {
  const auto card = [](const Answered& a) { return report::bench_card(a.outcome, a.cooldown); };
  for (const std::string setting : {"cool.glove_level=4", "cool.oil_pump=off"}) {
    const auto line = card(answered("demo", {setting}))[1];
    EXPECT_THAT(line, HasSubstr("to be sure")) << setting;
    EXPECT_EQ(line.find("above"), std::string::npos) << line;
  }
  EXPECT_THAT(card(answered("demo"))[1], HasSubstr("; above 250 °C on to"));
}

// Where no purge does it, hands come as late by the spreads as with one: the housing's mass alone,
// a fifth more, moves the gloves by as much as the card allows.
TEST(CoolAnswer, TheCardForStandingGivesLateTimes) {
  const auto& stuck = answered("yardstick", {"cool.starts=20"});
  ASSERT_FALSE(stuck.cooldown.plan.feasible);
  const double deviation = stuck.cooldown.sensitivity.deviation;
  EXPECT_GT(deviation, 0.1);
  const auto card = report::bench_card(stuck.outcome, stuck.cooldown);
  EXPECT_THAT(card[2],
              HasSubstr(fmt::format("later than computed by the {:.0f} % that times are sure to",
                                    100.0 * deviation)));
  const double gloves = stuck.cooldown.plan.standing_verdict.warm;
  EXPECT_THAT(card[2], HasSubstr(report::watch_time((1.0 + deviation) * gloves)));
}

// Times that may be late by a share are so only while the fan blows: without it the rest takes far
// longer.
TEST(CoolAnswer, TheCardSaysHowLongToBlowOnWhileMetalIsTooHot) {
  const auto& demo = answered("demo");
  const auto planned = report::limit_lines(demo.outcome, demo.cooldown)[1].planned;
  const auto late = report::watch_time((1.0 + demo.cooldown.sensitivity.deviation) * planned);
  EXPECT_THAT(report::bench_card(demo.outcome, demo.cooldown)[1],
              HasSubstr("; above 250 °C on to " + late));
}

// As `choose` counts them: the purge before ignition belongs to a start.
TEST(CoolAnswer, EveryStartPaysForThePurgeAheadOfIt) {
  const auto& demo = answered("demo");
  const double current =
      rig::fan_operation(demo.cooldown.rig,
                         rig::deliver(demo.cooldown.rig, demo.cooldown.stand_off))
          .drive.pack_current;
  const auto& bench = demo.outcome.bench;
  EXPECT_NEAR(demo.cooldown.charge_of_starts,
              bench.cool.starts * current * (10.0 + bench.requirement.start_duration),
              1e-9 * demo.cooldown.charge_of_starts);
  const auto& long_purge = answered("demo", {"start.purge.changes=50", "start.purge.volume=20L"});
  EXPECT_GT(long_purge.cooldown.purge_of_start, 30.0);
  EXPECT_THAT(flat(text_of(demo)), HasSubstr("10 s of it counted with each start"));
}

TEST(CoolAnswer, KeepsTheThreeLimitsApartAndCompares) {
  for (const auto& name : shipped) {
    const auto& a = answered(name);
    const auto lines = report::limit_lines(a.outcome, a.cooldown);
    EXPECT_LE(lines[0].on, lines[1].on) << name;
    EXPECT_LT(lines[1].on, lines[2].on) << name;
    EXPECT_LT(lines[1].standing, lines[2].standing) << name;
    for (const auto& line : lines) EXPECT_LE(line.on, line.standing) << name << " " << line.what;
  }
}

TEST(CoolAnswer, SaysEveryCaution) {
  for (const auto& name : shipped) {
    const auto text = text_of(answered(name));
    for (const auto* word : {"fuel off",
                             "still glows",
                             "exhaust",
                             "burns",
                             "no licence",
                             "thermometer",
                             "local codes"}) {
      std::string flat = text;
      std::replace(flat.begin(), flat.end(), '\n', ' ');
      EXPECT_THAT(flat, HasSubstr(word)) << name;
    }
  }
}

TEST(CoolAnswer, TellsThePurgeBeforeIgnitionFromTheOnePlaceThatKnowsIt) {
  const auto& vapour = answered("demo").cooldown.vapour;
  EXPECT_DOUBLE_EQ(vapour.changes, answered("demo").outcome.bench.models.start.purge.purge_changes);
  EXPECT_GT(vapour.seconds, 0.05);
  EXPECT_LT(vapour.seconds, 60.0);
  // The seconds, with the fan's and the rotor's spin-up, are those of the start run: not told
  // twice.
  EXPECT_THAT(flat(text_of(answered("demo"))), HasSubstr("before ignition: 5 changes of"));
  EXPECT_THAT(flat(text_of(answered("demo"))), HasSubstr("counted with each start"));
}

TEST(CoolAnswer, JsonHoldsTheAgreedKeys) {
  for (const auto& name : shipped) {
    const auto document = json_of(answered(name));
    for (const auto* key : {"feasible",
                            "throttle",
                            "purge_s",
                            "touch_safe_s",
                            "bearing_safe_s",
                            "standing_s",
                            "bearing_standing_s",
                            "bearing_peak_k",
                            "bearing_peak_standing_k",
                            "charge_used_ah"}) {
      EXPECT_TRUE(document.contains(key)) << name << " " << key;
    }
    EXPECT_EQ(document.at("constraints").size(), cooling::bound_count);
  }
}

// A number that is none is written as null, which must not stand where a number is due.
TEST(CoolAnswer, JsonHasANumberWhereverOneIsDue) {
  int planned = 0;
  for (const auto& name : shipped) {
    const auto document = json_of(answered(name));
    const auto is_number = [&](const char* key) {
      EXPECT_TRUE(document.at(key).is_number()) << name << " " << key << " " << document.at(key);
    };
    for (const auto* key : {"bearing_peak_standing_k",
                            "coking_limit_k",
                            "glove_limit_k",
                            "contact_limit_k",
                            "stand_off_m",
                            "charge_left_ah",
                            "time_deviation"}) {
      is_number(key);
    }
    for (const auto& [key, value] : document.at("purge_before_ignition").items()) {
      EXPECT_TRUE(value.is_number()) << name << " " << key;
    }
    if (!document.at("feasible").get<bool>()) continue;
    ++planned;
    for (const auto* key :
         {"purge_s", "touch_safe_s", "bearing_safe_s", "bearing_peak_k", "charge_used_ah"}) {
      is_number(key);
    }
    for (const auto& step : document.at("steps")) {
      for (const auto& [key, value] : step.items()) EXPECT_TRUE(value.is_number()) << key;
    }
  }
  EXPECT_GT(planned, 0);
}

TEST(CoolAnswer, JsonAndPlanSayTheSame) {
  const auto& a = answered("demo");
  const auto document = json_of(a);
  ASSERT_TRUE(document.at("feasible").get<bool>());
  EXPECT_DOUBLE_EQ(document.at("purge_s").get<double>(), a.cooldown.plan.purge.seconds);
  EXPECT_NEAR(
      document.at("charge_used_ah").get<double>() * 3600.0, a.cooldown.plan.purge.charge, 1e-9);
  EXPECT_LE(document.at("charge_used_ah").get<double>(),
            document.at("charge_left_ah").get<double>());
}

TEST(CoolAnswer, CsvBalancesItsHeatToATenthOfAPercent) {
  const auto& cooldown = answered("demo").cooldown;
  const auto lines = lines_of(report::cool_csv(cooldown));
  const auto columns = 1 + std::count(lines[0].begin(), lines[0].end(), ',');
  std::map<std::string, std::vector<double>> last;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    EXPECT_EQ(1 + std::count(lines[i].begin(), lines[i].end(), ','), columns);
    std::istringstream row(lines[i]);
    std::string course;
    std::getline(row, course, ',');
    std::vector<double> values;
    for (std::string cell; std::getline(row, cell, ',');) {
      values.push_back(cell.empty() ? std::nan("") : std::stod(cell));
    }
    last[course] = values;
  }
  ASSERT_EQ(last.size(), 2U);
  const double before = cooling::stored_heat(cooldown.scene.network, cooldown.scene.start);
  for (const auto& [course, values] : last) {
    cooling::Temperatures at{};
    std::copy_n(values.begin() + 1, cooling::part_count, at.begin());
    const double left = std::accumulate(values.end() - 4, values.end(), 0.0);
    EXPECT_NEAR(before - cooling::stored_heat(cooldown.scene.network, at), left, 1e-3 * before)
        << course;
  }
}

TEST(CoolAnswer, AnEmptyPackIsANoThatSaysWhatWouldHelp) {
  const auto& a = answered("demo", {"cool.charge_left=20 mAh"});
  EXPECT_FALSE(report::cools(a.cooldown));
  const auto text = text_of(a);
  EXPECT_THAT(text, HasSubstr("charge left in the pack"));
  EXPECT_THAT(text, HasSubstr("What would mend it: a pack with"));
  EXPECT_FALSE(json_of(a).at("remedy").is_null());
  EXPECT_TRUE(json_of(a).at("purge_s").is_null());
}

TEST(CoolAnswer, WhatIsShortIsToldOfThePurgeThatWouldMendIt) {
  const auto& a = answered("demo", {"cool.charge_left=0 mAh"});
  EXPECT_FALSE(report::cools(a.cooldown));
  const auto text = text_of(a);
  EXPECT_THAT(text, HasSubstr("1. Fuel off, lines closed, fan off."));
  EXPECT_THAT(flat(text), HasSubstr("* asks for more than the pack has left."));
  EXPECT_THAT(text, Not(HasSubstr("while the fan blows")));
  EXPECT_THAT(text, Not(HasSubstr("µC")));
  const auto& plan = a.cooldown.plan;
  EXPECT_NEAR(plan.purge.charge, plan.remedy.pack.charge, 0.02 * plan.remedy.pack.charge);
  // The curve is followed more roughly than the purge that is told.
  constexpr double rough = 1e-4;
  for (const auto& trial : plan.trade_off) {
    EXPECT_GE((1.0 + rough) * trial.charge, plan.purge.charge);
  }
}

TEST(CoolAnswer, ThePurgeBeforeIgnitionIsThatOfTheCasesStart) {
  const auto& vapour = answered("demo", {"start.purge.changes=8"}).cooldown.vapour;
  EXPECT_DOUBLE_EQ(vapour.changes, 8.0);
  EXPECT_NEAR(
      vapour.changing, 1.6 * answered("demo").cooldown.vapour.changing, 1e-9 * vapour.changing);
  EXPECT_EQ(vapour.seconds, 10.0);  // the least, five times longer
}

TEST(CoolAnswer, AFanThatBringsNoAirIsANo) {
  auto outcome = answered("demo", {"site.wind=12 m/s"}).outcome;
  outcome.asked = placement::look(outcome.answer.rig, 9.0, outcome.bench.requirement);
  const Answered far{.outcome = outcome, .cooldown = cooldown_of(outcome)};
  EXPECT_FALSE(report::cools(far.cooldown));
  EXPECT_THAT(text_of(far), HasSubstr("brings no air into the engine from 9000 mm"));
  EXPECT_THAT(text_of(far), HasSubstr("no: no air comes through"));
}

/// The demo with its fan at another distance.
Answered at_distance(double stand_off) {
  auto outcome = answered("demo").outcome;
  outcome.asked = placement::look(outcome.answer.rig, stand_off, outcome.bench.requirement);
  return {.outcome = outcome, .cooldown = cooldown_of(outcome)};
}

TEST(CoolAnswer, ThePlanOfTheCardIsThatOfTheJson) {
  for (const auto& name : shipped) {
    const auto& a = answered(name);
    const auto& plan = a.cooldown.plan;
    ASSERT_TRUE(plan.feasible);
    const auto card = report::bench_card(a.outcome, a.cooldown);
    for (const auto& step : plan.purge.steps) {
      EXPECT_THAT(card[1], HasSubstr(fmt::format("{:.0f} %", 100.0 * step.throttle)));
      EXPECT_THAT(card[1], HasSubstr(report::watch_time(step.end)));
      EXPECT_NEAR(100.0 * step.throttle, std::round(100.0 * step.throttle), 1e-9);
      EXPECT_EQ(cooling::settable_time(step.end), step.end);
    }
    EXPECT_LE(plan.purge.charge, a.cooldown.need.charge);
  }
}

TEST(CoolAnswer, AFarFanExplainsItsTwoColumnsAndItsThriftiestPurge) {
  for (const double stand_off : {2.0, 3.0}) {
    const auto far = at_distance(stand_off);
    ASSERT_TRUE(report::cools(far.cooldown)) << stand_off;
    const auto text = flat(text_of(far));
    EXPECT_THAT(text, HasSubstr("This plan: from then on it holds."));
    EXPECT_THAT(text, HasSubstr("Purge needed: least fan time at"));
    EXPECT_THAT(text, HasSubstr("Thriftiest: throttle"));
    const auto facts = report::cool_facts(far.outcome, far.cooldown);
    const bool rests = far.cooldown.plan.verdict.fastest_rotor == 0.0;
    EXPECT_EQ(text.find("rotor at rest") != std::string::npos, rests);
    EXPECT_TRUE(rests) << "a trickle turns no rotor";
  }
  EXPECT_THAT(flat(text_of(answered("demo"))), Not(HasSubstr("rotor at rest")));
}

TEST(CoolAnswer, TooFarForThePackNamesANearerMountAndABiggerPack) {
  const auto far = at_distance(5.0);
  EXPECT_FALSE(report::cools(far.cooldown));
  const auto text = flat(text_of(far));
  EXPECT_THAT(text, HasSubstr("What would mend it: the fan at "));
  EXPECT_THAT(text, HasSubstr("mm or nearer for the purge (throttle "));
  EXPECT_THAT(text, HasSubstr("or a pack with "));
  EXPECT_THAT(text, HasSubstr("Thriftiest: none that the pack can pay"));
  const auto remedy = json_of(far).at("remedy");
  for (const auto* key : {"throttle", "time_s", "charge_ah"}) {
    EXPECT_TRUE(remedy.at(key).is_number()) << key;
  }
  EXPECT_LT(remedy.at("nearer").at("stand_off_m").get<double>(), 5.0);
  // The nearer mount does.
  EXPECT_TRUE(
      report::cools(at_distance(remedy.at("nearer").at("stand_off_m").get<double>()).cooldown));
}

TEST(CoolAnswer, BeyondTheJetSaysThatNoPackHelps) {
  const auto far = at_distance(9.0);
  EXPECT_FALSE(report::cools(far.cooldown));
  const auto text = flat(text_of(far));
  EXPECT_THAT(text, HasSubstr("mm or nearer for the purge (throttle "));
  EXPECT_THAT(text, HasSubstr("A bigger pack would not: no throttle blows that far."));
  EXPECT_THAT(text, HasSubstr("Thriftiest: none; no throttle brings air"));
  const auto remedy = json_of(far).at("remedy");
  EXPECT_TRUE(remedy.at("bigger_pack").is_null());
  EXPECT_TRUE(remedy.at("throttle").is_null());
  EXPECT_TRUE(remedy.at("nearer").at("charge_ah").is_number());
}

TEST(CoolAnswer, ACoolEngineNeedsNoPurge) {
  std::vector<std::string> settings;
  for (std::size_t i = 0; i < cooling::part_count; ++i) {
    settings.push_back("cool." + std::string(name(static_cast<cooling::Part>(i))) +
                       ".temperature=30 degC");
  }
  const auto& a = answered("demo", settings);
  EXPECT_TRUE(report::cools(a.cooldown));
  const auto text = text_of(a);
  EXPECT_THAT(text, HasSubstr("No purge is needed"));
  EXPECT_THAT(text, HasSubstr("gloves (15 s) at once, bare hands"));
  EXPECT_THAT(text, Not(HasSubstr("Thriftiest")));
  EXPECT_EQ(json_of(a).at("purge_s").get<double>(), 0.0);
}

TEST(CoolAnswer, SaysWhatHoldsAPlanThatIsSetBesideItsLimit) {
  const auto& a = answered("demo");
  EXPECT_THAT(report::what_holds(a.outcome, a.cooldown), HasSubstr("charge left in the pack"));
}

TEST(CoolAnswer, JsonSaysWhichPurgeThePackCanPay) {
  const auto needed = json_of(answered("demo")).at("purge_needed");
  EXPECT_TRUE(needed.at(1).at("affordable").get<bool>());
  EXPECT_FALSE(needed.at(2).at("affordable").get<bool>());
  const double left = json_of(answered("demo")).at("charge_left_ah").get<double>();
  for (const auto& line : needed) {
    EXPECT_EQ(line.at("affordable").get<bool>(), line.at("charge_ah").get<double>() <= left);
  }
}

TEST(CoolAnswer, ThePageMarksWhatThePackCannotPay) {
  const auto& a = answered("demo");
  const auto section = report::cool_section(a.outcome, a.cooldown);
  EXPECT_THAT(section, HasSubstr(report::watch_time(a.cooldown.on[2].seconds) + " *"));
  EXPECT_THAT(section, HasSubstr("* asks for more than the pack has left."));
}

TEST(CoolAnswer, ThePageCallsAPurgeOutOfReachNoPlan) {
  const auto& a = answered("demo", {"cool.charge_left=20 mAh"});
  const auto section = report::cool_section(a.outcome, a.cooldown);
  EXPECT_THAT(section, Not(HasSubstr("with this purge")));
  EXPECT_THAT(section, Not(HasSubstr("The ring is the plan")));
  EXPECT_THAT(section, HasSubstr("a purge out of reach"));
  EXPECT_THAT(section, HasSubstr("which breaks a limit"));
}

TEST(CoolAnswer, ADryRotorAsksForThePump) {
  const auto& a = answered("demo", {"cool.oil_pump=off", "cool.throttle=[50 %, 60 %]"});
  EXPECT_FALSE(report::cools(a.cooldown));
  EXPECT_THAT(text_of(a), HasSubstr("oil pump that runs"));
}

// Nothing gets colder than the air around it: no pack, pump or distance is to blame then.
TEST(CoolAnswer, AirWarmerThanTheLimitIsNamedAsTheReason) {
  const auto& a =
      answered("demo", {"site.temperature=50 degC", "cool.contact_time=8 h", "cool.goal=contact"});
  EXPECT_FALSE(report::cools(a.cooldown));
  const auto text = flat(text_of(a));
  EXPECT_THAT(text, HasSubstr("The air itself is at 50 °C: nothing cools in it to 43 °C"));
  EXPECT_THAT(text, HasSubstr("bare hands (8 h) never in air this warm"));
  EXPECT_THAT(text, Not(HasSubstr("Short at")));
  const auto document = json_of(a);
  EXPECT_FALSE(document.at("purge_needed").at(0).at("room_too_warm"));
  EXPECT_TRUE(document.at("purge_needed").at(2).at("room_too_warm"));
  EXPECT_THAT(flat(text_of(answered("demo"))), Not(HasSubstr("The air itself")));
}

TEST(CoolAnswer, StartsThatEmptiedThePackMayBeFewer) {
  const auto& many = answered("demo", {"cool.starts=30"});
  EXPECT_FALSE(report::cools(many.cooldown));
  const auto text = flat(text_of(many));
  const std::string words = "no more than ";
  const auto at = text.find(words);
  ASSERT_NE(at, std::string::npos) << text;
  const int most = std::stoi(text.substr(at + words.size()));
  const auto with = [](int starts) {
    return report::cools(answered("demo", {fmt::format("cool.starts={}", starts)}).cooldown);
  };
  EXPECT_TRUE(with(most));
  EXPECT_FALSE(with(most + 1));
}

TEST(CoolAnswer, AThrottleOutsideItsRangeIsARemedyThatDoes) {
  const auto& a =
      answered("demo", {"cool.throttle=[80 %, 100 %]", "cool.cooling_per_minute=100 K"});
  ASSERT_FALSE(report::cools(a.cooldown));
  const auto& mend = a.cooldown.plan.remedy.range;
  ASSERT_TRUE(mend.found);
  EXPECT_LT(mend.throttle, 0.8);
  EXPECT_THAT(flat(text_of(a)), HasSubstr("a throttle outside the range it was given"));
  EXPECT_TRUE(report::cools(
      answered("demo", {"cool.throttle=[10 %, 100 %]", "cool.cooling_per_minute=100 K"}).cooldown));
}

TEST(CoolAnswer, WaitingFirstIsOfferedOnlyWhereItCokesNoOil) {
  const auto& dry = answered("demo", {"cool.cooling_per_minute=70 K"});
  EXPECT_FALSE(dry.cooldown.plan.remedy.wait.found);
  EXPECT_THAT(flat(text_of(dry)), HasSubstr("Waiting before it blows would not"));
  const auto& oiled = answered("demo", {"cool.cooling_per_minute=70 K", "cool.oil_pump=always"});
  ASSERT_FALSE(report::cools(oiled.cooldown));
  const auto& mend = oiled.cooldown.plan.remedy.wait;
  ASSERT_TRUE(mend.found);
  EXPECT_GT(mend.wait, 0.0);
  EXPECT_THAT(flat(text_of(oiled)),
              HasSubstr("standing " + report::watch_time(mend.wait) + " first, then throttle"));
  EXPECT_EQ(json_of(oiled).at("remedy").at("wait_first").at("wait_s"), mend.wait);
}

TEST(CoolAnswer, AWrongPairIsNotPassedOver) {
  const auto& a = answered("demo", {"drive.pack=packs/12s-5000.yaml"});
  EXPECT_THAT(flat(text_of(a)), HasSubstr("are no pair for full throttle"));
  EXPECT_THAT(flat(text_of(answered("demo"))), Not(HasSubstr("are no pair")));
}

TEST(CoolAnswer, NoPurgeIsToldWithoutAFanThatBlows) {
  const auto& a = answered("demo", {"running.duration=1 s"});
  ASSERT_TRUE(report::cools(a.cooldown));
  const auto text = flat(text_of(a));
  EXPECT_THAT(text, HasSubstr("1. Fuel off, lines closed, fan off. 2. No purge is needed."));
  for (const auto* word : {"µC", "0 mAh", "while the fan blows", "continuous rating"}) {
    EXPECT_THAT(text, Not(HasSubstr(word)));
  }
}

TEST(CoolAnswer, JsonCarriesReasonsAndCautions) {
  const auto document = json_of(answered("demo", {"cool.cooling_per_minute=70 K"}));
  EXPECT_EQ(document.at("cautions").size(), report::cool_cautions().size());
  EXPECT_GE(document.at("short").size(), 2U);
  for (const auto& row : document.at("trade_off")) {
    EXPECT_EQ(row.at("why_not").is_null(), row.at("feasible").get<bool>());
  }
  EXPECT_TRUE(json_of(answered("demo")).at("short").empty());
}

TEST(CoolAnswer, TheTableCallsOnlyAPlanAPlan) {
  EXPECT_THAT(report::cool_csv(answered("demo").cooldown), HasSubstr("\nplan,0"));
  const auto broken = report::cool_csv(answered("demo", {"cool.cooling_per_minute=70 K"}).cooldown);
  EXPECT_THAT(broken, Not(HasSubstr("\nplan,")));
  EXPECT_THAT(broken, HasSubstr("\ntried,0"));
}

// Whatever stands one percent of throttle away is named as what holds the plan.
TEST(CoolAnswer, ALimitOnePercentAwayIsNamed) {
  std::size_t named = 0;
  for (const double rate : {95.0, 105.0, 115.0, 125.0, 135.0, 145.0}) {
    const auto& a = answered("demo", {fmt::format("cool.cooling_per_minute={} K", rate)});
    ASSERT_TRUE(report::cools(a.cooldown)) << rate;
    auto steps = a.cooldown.plan.purge.steps;
    steps.back().end = unset;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      auto more = steps;
      more[i].throttle += 0.01;
      const auto next = cooling::try_purge(
          a.cooldown.scene, a.cooldown.rig, a.cooldown.need, more, cooling::Ends::settable);
      if (more[i].throttle > 1.0 || next.feasible) continue;
      ++named;
      EXPECT_THAT(report::what_holds(a.outcome, a.cooldown), HasSubstr("Held by the")) << rate;
    }
  }
  EXPECT_GT(named, 3U);
}

TEST(CoolAnswer, SaysHowFarTheTimeMayBeOffAndByWhat) {
  const auto& cooldown = answered("demo").cooldown;
  const auto& found = cooldown.sensitivity;
  EXPECT_GT(found.deviation, 0.02);
  EXPECT_LT(found.deviation, 1.0);
  ASSERT_GT(found.influences.size(), 10U);
  EXPECT_GE(std::abs(found.influences[0].seconds), std::abs(found.influences[1].seconds));
}

TEST(CoolAnswer, PageShowsCurvesLimitsAndTradeOff) {
  const auto& a = answered("demo");
  const auto section = report::cool_section(a.outcome, a.cooldown);
  for (const auto* text : {"oil begins to coke",
                           "gloves do",
                           "bare hands do",
                           "no fan",
                           "with this purge",
                           "time against charge",
                           "After the run"}) {
    EXPECT_THAT(section, HasSubstr(text));
  }
}

TEST(CoolAnswer, WatchTimeRoundsToTheSafeSide) {
  EXPECT_EQ(report::watch_time(0.0), "at once");
  EXPECT_EQ(report::watch_time(0.2), "1 s");
  EXPECT_EQ(report::watch_time(12.0), "15 s");
  EXPECT_EQ(report::watch_time(59.0), "1 min");
  EXPECT_EQ(report::watch_time(61.0), "1 min 5 s");
  EXPECT_EQ(report::watch_time(390.0), "6 min 30 s");
  EXPECT_EQ(report::watch_time(1801.0), "31 min");
  EXPECT_EQ(report::watch_time(7201.0), "2 h 1 min");
  EXPECT_EQ(report::watch_time(7200.0), "2 h");
  EXPECT_EQ(report::watch_time(std::numeric_limits<double>::infinity()), "never");
}

}  // namespace
}  // namespace windgap::app
