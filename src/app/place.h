#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb place_verb;

}  // namespace windgap::app
