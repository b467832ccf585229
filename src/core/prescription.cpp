#include "backplan/prescription.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <utility>

#include "prescription_parts.hpp"

namespace backplan {
namespace {

// Points under this print as nothing.
constexpr double kLeastPrinted = 0.05;
constexpr std::size_t kMostReasons = 3;

int minutes_of(const WorkKind& work, BlockSize size) {
  if (size == BlockSize::full) return work.full.minutes;
  if (size == BlockSize::home && work.home) return work.home->minutes;
  return work.shorter.minutes;
}

Draft write(const Order& order) {
  const std::string& family = order.work.family;
  if (family == "lift") return write_lift(order);
  if (family == "press") return write_press(order);
  if (family == "hold") return write_hold(order);
  if (family == "shuttle") return write_shuttle(order);
  if (family == "throw") return write_throw(order);
  if (family == "intervals") return write_intervals(order);
  if (family == "steady") return write_steady(order);
  if (family == "pieces") return write_pieces(order);
  if (family == "drill") return write_drill(order);
  // The reader of the defaults refuses other families.
  throw std::logic_error("no prescription is written for the family '" + family + "'");
}

// The event that the work is for: the one it trains, or the one of this test that gets most of it.
std::string held_by(const WorkKind& work, const Situation& situation) {
  if (situation.standard->first_of_model(work.trains) != nullptr) return work.trains;
  std::string best = work.trains;
  double most = 0.0;
  for (const auto& [event, share] : work.transfer) {
    if (share <= most || situation.standard->first_of_model(event) == nullptr) continue;
    best = event;
    most = share;
  }
  return best;
}

std::string reason(const WorkKind& work, const Situation& situation) {
  auto pays = situation.pays;
  std::stable_sort(pays.begin(), pays.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  const bool pass_or_fail = situation.standard->pass_or_fail;
  std::string text;
  std::size_t named = 0;
  for (const auto& [event, points] : pays) {
    if (points < kLeastPrinted || named == kMostReasons) break;
    text += named++ == 0 ? "" : ", ";
    const Event* known = situation.standard->find_event(event);
    text += known != nullptr ? known->name : event;
    if (!pass_or_fail) text += fmt::format(" {:+.1f}", points);
  }
  if (named > 0) return text + (pass_or_fail ? " nearer to a pass" : " points by the test");
  return fmt::format("keeps the {} where it is", event_name(held_by(work, situation), situation));
}

}  // namespace

Block prescribe(const WorkKind& work, BlockSize size, const Situation& situation) {
  if (situation.candidate == nullptr || situation.standard == nullptr) {
    throw std::logic_error("a prescription needs a candidate and a standard");
  }
  const Order order{work, size, minutes_of(work, size), situation};
  Draft draft = write(order);
  Block block;
  block.work = work.id;
  block.size = size;
  block.minutes = order.minutes;
  block.rehearsal = draft.rehearsal;
  block.load = draft.load;
  block.continuous_run = draft.continuous_run;
  block.sets = draft.sets;
  block.quarter = draft.quarter;
  block.lift = std::move(draft.lift);
  block.rounds = draft.rounds;
  block.prescription = std::move(draft.text);
  block.why = reason(work, situation);
  if (situation.coming_back) block.why = "back after weeks without it, so gently; " + block.why;
  block.stop = std::move(draft.stop);
  return block;
}

}  // namespace backplan
