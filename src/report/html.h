#pragma once

#include <string>

namespace windgap::report {

struct ChooseOutcome;
struct Cooldown;
struct Outcome;
struct Survey;

/// Everything about a case on one page that needs nothing else: verdict, side view, plots against
/// the distance, cold check, limits, assumptions, warnings, cautions, sources. Opens offline on a
/// phone or a desk, prints on A4. The same bytes for the same answer.
/// `survey` is what the plots show; about a hundred distances make smooth lines.
/// `cooldown`: the purge after the run, `fans`: how large a fan this engine asks for; nullptr
/// leaves their sections out.
[[nodiscard]] std::string html_page(const Outcome& outcome,
                                    const Survey& survey,
                                    const Cooldown* cooldown = nullptr,
                                    const ChooseOutcome* fans = nullptr);

}  // namespace windgap::report
