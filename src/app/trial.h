#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb trial_verb;

}  // namespace windgap::app
