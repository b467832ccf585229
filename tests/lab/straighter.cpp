#include "lab/straighter.hpp"

namespace backplan::lab {
namespace {

Model with_straighter_doses(const Model& known) {
  Model out = known;
  for (auto& [id, event] : out.events) event.dose.u0 *= id == "MDL" ? 1.0 : kStraighter;
  return out;
}

}  // namespace

Decision Straighter::decide(const Situation& now) {
  if (!model_) model_ = with_straighter_doses(now.knowledge.model);
  const Knowledge knowledge{now.knowledge.standard, *model_, now.knowledge.rules};
  return weekly_.decide({now.candidate, knowledge, now.history, now.as_of, now.truth});
}

}  // namespace backplan::lab
