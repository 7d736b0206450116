#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb spin_verb;

}  // namespace windgap::app
