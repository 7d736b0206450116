#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb learn_verb;

}  // namespace windgap::app
