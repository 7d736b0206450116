#pragma once

#include <span>
#include <string>
#include <string_view>

namespace windgap::casefile {

/// The word among `words` that `written` was probably meant to be (few letters apart, capitals and
/// `-`/`_` ignored); empty if none is near.
[[nodiscard]] std::string nearest(std::string_view written, std::span<const std::string> words);

}  // namespace windgap::casefile
