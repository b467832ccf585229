// A small test of three events and a model of three work kinds, made by code, so that a test sees
// all that it rests on. The figures are invented; their shape is that of an official standard.
#pragma once

#include "backplan/model.hpp"
#include "backplan/standard.hpp"

namespace backplan::support {

// Events MDL (lb), HRP (repetitions), 2MR (time); columns female and male; bands 17-21, 22-26,
// 27-99; categories general (60 each, own column) and combat (60 each, 210 in all, male column).
// Scales reach from 60 to 100 points: female MDL 120 to 220 lb, HRP 10 to 50, 2MR 22:00 to 15:30;
// male MDL 150 to 340 lb, HRP 15 to 60, 2MR 20:00 to 13:30; each band two repetitions fewer.
[[nodiscard]] Standard small_standard();

// Work kinds deadlift, push_up, intervals; fixed work march.
[[nodiscard]] Model small_model();

}  // namespace backplan::support
