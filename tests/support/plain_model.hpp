// A model, rules and a one-event standard made by code: what the checker needs to judge plans made
// by hand, independent of the figures that are shipped.
#pragma once

#include "backplan/model.hpp"
#include "backplan/rules.hpp"
#include "backplan/standard.hpp"

namespace backplan::testing {

[[nodiscard]] Model plain_model();        // work kinds and fixed work; no event models
[[nodiscard]] Rules plain_rules();        // the training rules as first agreed
[[nodiscard]] Standard plain_standard();  // one run, one column, one band

}  // namespace backplan::testing
