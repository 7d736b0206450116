#include "casefile/sections.h"

namespace windgap::casefile {

void read_choose(Reader reader, Draft& draft) {
  auto& choosing = draft.result.choosing;
  choosing.with_library = reader.optional_flag("library").value_or(true);
  choosing.fans = reader.texts("fans");
  choosing.packs = reader.texts("packs");
}

}  // namespace windgap::casefile
