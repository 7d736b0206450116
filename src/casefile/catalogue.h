#pragma once

#include <string>
#include <vector>

#include "casefile/case.h"
#include "choice/choice.h"
#include "choice/sizing.h"

/// The fans, packs and engines there are to choose from.
namespace windgap::casefile {

/// A file that could not be used, and why.
struct Skipped {
  std::string file;
  std::string reason;
};

struct Catalogue {
  std::vector<choice::ListedFan> fans;  ///< the case's own first, its own list, then the library
  std::vector<choice::ListedPack> packs;
  std::vector<choice::ListedEngine> engines;  ///< the case's own first
  std::vector<Skipped> skipped;
};

/// Candidates for a case read with `Scope::choice`: its own fan and pack, the files its section
/// `choose` names, and `fans/*.yaml` and `packs/*.yaml` of the case's folder, `--models` and the
/// installed models (the first folder that has a name wins). A file with a mistake is skipped and
/// the first mistake kept as the reason.
[[nodiscard]] Catalogue catalogue(const Case& bench, const ReadOptions& options);

/// The question that the candidates answer.
[[nodiscard]] choice::Question question(const Case& bench);

/// What the case says of it, and the practice for the rest.
[[nodiscard]] start::Purge purge_before_ignition(const Case& bench);

}  // namespace windgap::casefile
