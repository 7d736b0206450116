#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb sweep_verb;

}  // namespace windgap::app
