#pragma once

#include <string>

#include "report/lesson.h"

namespace windgap::report {

/// The lesson as a page that opens offline and prints: curve before and after with its band, the
/// attempts on it, airflow, advice, cautions.
[[nodiscard]] std::string lesson_page(const Lesson& lesson);

}  // namespace windgap::report
