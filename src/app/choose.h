#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb choose_verb;

}  // namespace windgap::app
