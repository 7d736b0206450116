#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb spark_verb;

}  // namespace windgap::app
