#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb check_verb;

}  // namespace windgap::app
