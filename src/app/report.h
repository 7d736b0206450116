#pragma once

#include "app/verb.h"

namespace windgap::app {

extern const Verb report_verb;

}  // namespace windgap::app
