#include "units/quantity.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <system_error>
#include <utility>

namespace windgap::units {
namespace {

using namespace std::string_literals;

constexpr std::string_view tolerance_mark = "+-";

/// Typographic signs and spaces that mean the same as an ASCII one.
constexpr auto signs = std::to_array<std::pair<std::string_view, std::string_view>>({
    {"\u2212", "-"},
    {"\u00b1", tolerance_mark},
    {"+/-", tolerance_mark},
    {"\u00a0", " "},
    {"\u2009", " "},
    {"\u202f", " "},
    {"\t", " "},
});

std::string in_plain_signs(std::string_view text) {
  std::string plain;
  while (!text.empty()) {
    std::string_view next = text.substr(0, 1);
    std::string_view becomes = next;
    for (const auto& [from, to] : signs) {
      if (text.starts_with(from)) {
        next = from;
        becomes = to;
        break;
      }
    }
    plain += becomes;
    text.remove_prefix(next.size());
  }
  return plain;
}

std::string_view trimmed(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return text;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// A number and the unit text behind it, or a problem.
struct Term {
  double number = unset;
  std::string_view digits;
  std::string_view unit;
  std::string problem;
};

Term read_term(std::string_view text) {
  Term term;
  text = trimmed(text);
  if (text.empty()) {
    term.problem = "a number is missing";
    return term;
  }
  const auto whole = text;
  if (text.front() == '+') text.remove_prefix(1);
  const auto unsigned_part = text.starts_with('-') && whole.front() != '+' ? text.substr(1) : text;
  const bool starts_number =
      !unsigned_part.empty() &&
      (is_digit(unsigned_part[0]) ||
       (unsigned_part[0] == '.' && unsigned_part.size() > 1 && is_digit(unsigned_part[1])));
  if (!starts_number) {
    term.problem = "it does not start with a finite decimal number";
    return term;
  }
  const char* const end = text.data() + text.size();
  const auto result = std::from_chars(text.data(), end, term.number, std::chars_format::general);
  if (result.ec != std::errc() || !std::isfinite(term.number)) {
    term.problem = "the number is too large or too small to hold";
    return term;
  }
  term.digits = text.substr(0, static_cast<std::size_t>(result.ptr - text.data()));
  const auto rest = text.substr(term.digits.size());
  if (rest.starts_with(',') && rest.size() > 1 && is_digit(rest[1])) {
    term.problem = "the decimal sign is a point, not a comma";
    return term;
  }
  if (rest.starts_with('x') || rest.starts_with('X')) {
    term.problem = "it is not a decimal number";
    return term;
  }
  term.unit = trimmed(rest);
  return term;
}

std::string lower(std::string_view text) {
  std::string result(text);
  for (char& c : result) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return result;
}

/// A unit of the wanted dimension that differs only by capitals or a missing "deg".
std::string_view similar_unit(std::string_view written, Dimension wanted) {
  const auto plain = lower(plain_symbol(written));
  for (const auto& unit : all_units()) {
    if (unit.dimension != wanted || unit.symbol.empty()) continue;
    const auto symbol = lower(unit.symbol);
    if (symbol == plain || symbol == "deg" + plain || symbol + "s" == plain) return unit.symbol;
  }
  return {};
}

Reading refuse(std::string problem, std::string suggestion = {}) {
  return {
      .quantity = std::nullopt, .problem = std::move(problem), .suggestion = std::move(suggestion)};
}

/// In quotes; what is far longer than any unit is cut, between characters.
std::string quoted(std::string_view unit) {
  constexpr std::size_t longest = 32;
  const auto continues = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
  if (unit.size() <= longest) return "\"" + std::string(unit) + "\"";
  std::size_t end = longest;
  while (end > 0 && continues(unit[end])) --end;
  return "\"" + std::string(unit.substr(0, end)) + "…\"";
}

Reading refuse_unit(const Term& term, Dimension wanted) {
  const auto noun = std::string(wording(wanted).noun);
  if (term.unit.empty()) {
    if (wanted != Dimension::length) return refuse("the unit is missing");
    const auto digits = std::string(term.digits);
    return refuse("the unit is missing", digits + " mm or " + digits + " in");
  }
  const auto similar = similar_unit(term.unit, wanted);
  const auto suggestion =
      similar.empty() ? ""s : std::string(term.digits) + " " + std::string(similar);
  const auto written = quoted(term.unit);
  if (wanted == Dimension::number || (wanted == Dimension::ratio && measured_by(term.unit))) {
    const auto* const share = wanted == Dimension::ratio ? " %" : "";
    return refuse(noun + " has no unit " + written, std::string(term.digits) + share);
  }
  if (const auto other = measured_by(term.unit); other && *other != wanted) {
    return refuse(written + " measures " + std::string(wording(*other).noun) + ", not " + noun,
                  suggestion);
  }
  return refuse("unknown unit " + written, suggestion);
}

/// Half width in SI of the tolerance `term` on a value in `unit`; empty problem if it is one.
Reading read_tolerance(const Term& term, double value, const Unit& unit) {
  if (term.number < 0 || std::signbit(term.number)) return refuse("the tolerance is negative");
  const auto wanted = unit.dimension;
  if (plain_symbol(term.unit) == "%" && unit.symbol != "%") {
    if (wanted == Dimension::temperature) {
      return refuse("a tolerance in percent means nothing for a temperature");
    }
    return {.quantity = Quantity{.value = std::abs(value) * term.number / 100}};
  }
  const auto kind = wanted == Dimension::temperature ? Dimension::temperature_difference : wanted;
  const auto own = find_unit(term.unit.empty() ? unit.symbol : term.unit, kind);
  if (!own) return refuse_unit(term, kind);
  return {.quantity = Quantity{.value = own->factor * term.number}};
}

/// `0.9 ± 5 %` may mean 0.90 ± 0.05 or 0.9 % ± 5 %; which one is not ours to guess.
bool is_ambiguous_share(const Term& value, const Term& tolerance, Dimension wanted) {
  return wanted == Dimension::ratio && value.unit.empty() && tolerance.unit == "%" &&
         (std::abs(value.number) <= 1 || tolerance.number > std::abs(value.number));
}

}  // namespace

std::string wanted_text(Dimension dimension) {
  const auto words = wording(dimension);
  const bool bare = dimension == Dimension::ratio || dimension == Dimension::number;
  return std::string(words.noun) + (bare ? "" : " with its unit") + ", such as " +
         std::string(words.examples);
}

Reading parse(std::string_view text, Dimension wanted) {
  const auto plain = in_plain_signs(text);
  const auto mark = plain.find(tolerance_mark);
  auto term = read_term(std::string_view(plain).substr(0, mark));
  if (!term.problem.empty()) return refuse(std::move(term.problem));

  std::optional<Term> tolerance;
  if (mark != std::string::npos) {
    tolerance = read_term(std::string_view(plain).substr(mark + tolerance_mark.size()));
    if (!tolerance->problem.empty()) return refuse("after the ±, " + tolerance->problem);
    if (is_ambiguous_share(term, *tolerance, wanted)) {
      return refuse("it is not clear what the percent sign belongs to",
                    "0.90 ± 0.05 or 90 % ± 5 %");
    }
    // `46 ± 0.2 mm`: one unit for both, unless percent of a plain number.
    const bool share_of_number = wanted == Dimension::number && tolerance->unit == "%";
    const bool share_of_unitless = tolerance->unit == "%" && wanted != Dimension::ratio;
    if (term.unit.empty() && !share_of_number && !share_of_unitless) term.unit = tolerance->unit;
  }

  const auto unit = find_unit(term.unit, wanted);
  if (!unit) return refuse_unit(term, wanted);
  Quantity quantity{.value = unit->offset + unit->factor * term.number,
                    .tolerance = 0.0,
                    .unit = std::string(term.unit)};
  if (tolerance) {
    auto half_width = read_tolerance(*tolerance, quantity.value, *unit);
    if (!half_width.quantity) return half_width;
    quantity.tolerance = half_width.quantity->value;
  }
  if (!std::isfinite(quantity.value) || !std::isfinite(quantity.tolerance)) {
    return refuse("the number is too large or too small to hold");
  }
  return {.quantity = std::move(quantity)};
}

}  // namespace windgap::units
