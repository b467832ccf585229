#include <utility>

#include "property/mutation_places.hpp"

namespace backplan::testing {
namespace {

constexpr int kLongSlot = 300;  // minutes that hold any session

bool any_of_them(const PlannedDay&, const Block&) { return true; }

// Applies `change` to some block for which `fits` holds and puts the figures right.
bool change_block(Finished& f, const std::function<bool(const PlannedDay&, const Block&)>& fits,
                  const std::function<void(PlannedDay&, Block&)>& change) {
  const std::optional<BlockPlace> place = any_block(f, fits);
  if (!place) return false;
  PlannedDay& day = editor(f).day(place->date);
  change(day, day.blocks[place->number]);
  editor(f).refresh();
  return true;
}

bool overfill(Finished& f) {
  return change_block(f, any_of_them, [&](PlannedDay& day, Block& block) {
    if (block.size == BlockSize::home) block.size = BlockSize::full;
    block.minutes = day.slot_minutes + 1;
  });
}

bool change_minutes(Finished& f) {
  return change_block(f, any_of_them, [](PlannedDay&, Block& block) { block.minutes += 1; });
}

bool repeat_block(Finished& f) {
  return change_block(f, any_of_them, [&](PlannedDay& day, Block& block) {
    // A copy: the insertion below moves what `block` refers to.
    Block again = block;
    offer(f, day.date, kLongSlot);
    day.blocks.insert(day.blocks.begin(), std::move(again));
  });
}

bool add_blocks(Finished& f) {
  const std::optional<Date> date = any_day(f, [](const PlannedDay& day) { return !day.blocks.empty(); });
  if (!date) return false;
  offer(f, *date, kLongSlot);
  for (const WorkKind& kind : f.model.work) {
    if (!kind.hard && !kind.running) editor(f).add(*date, kind.id);
  }
  editor(f).add(*date, f.model.work.front().id);
  editor(f).refresh();
  return true;
}

bool second_hard_block(Finished& f) {
  const std::optional<Date> date = any_day(f, [&](const PlannedDay& day) {
    int hard = 0;
    for (const Block& block : day.blocks) hard += is_hard(f, block) ? 1 : 0;
    return hard == 1 && day.blocks.size() > 1;
  });
  if (!date) return false;
  for (Block& block : editor(f).day(*date).blocks) block.rehearsal = true;
  editor(f).refresh();
  return true;
}

bool lift_last(Finished& f) {
  const std::optional<Date> date =
      any_day(f, [&](const PlannedDay& day) { return has_family(f, day, "lift"); });
  const WorkKind* run = of_family(f, "steady");
  if (!date || run == nullptr) return false;
  offer(f, *date, kLongSlot);
  editor(f).add(*date, run->id, BlockSize::shorter);
  std::vector<Block>& blocks = editor(f).day(*date).blocks;
  std::swap(blocks.front(), blocks.back());
  for (std::size_t i = 1; i < blocks.size(); ++i) {
    if (kind_of(f, blocks[i]).family == "lift") std::swap(blocks[i], blocks.back());
  }
  editor(f).refresh();
  return true;
}

bool lengthen_run(Finished& f) {
  return change_block(
      f, [](const PlannedDay&, const Block& block) { return block.continuous_run.has_value(); },
      [](PlannedDay&, Block& block) { block.continuous_run = Metres(60000.0); });
}

bool lift_on_the_next_day(Finished& f) {
  const std::optional<Date> date = any_day(f, [&](const PlannedDay& day) {
    return has_family(f, day, "lift") && !is_blocked(f, day.date + Days{1}) &&
           day.date + Days{1} < f.candidate.test_date;
  });
  if (!date) return false;
  editor(f).add(*date + Days{1}, of_family(f, "lift")->id, BlockSize::shorter);
  editor(f).refresh();
  return true;
}

bool intervals_next_to(Finished& f, const std::string& family, int away) {
  const std::optional<Date> date = any_day(f, [&](const PlannedDay& day) {
    const Date other = day.date + Days{away};
    return has_family(f, day, family) && !is_blocked(f, other) && other < f.candidate.test_date &&
           other >= f.plan.as_of;
  });
  if (!date) return false;
  editor(f).add(*date + Days{away}, of_family(f, "intervals")->id, BlockSize::shorter);
  editor(f).refresh();
  return true;
}

bool drop_reason(Finished& f) {
  return change_block(f, any_of_them, [](PlannedDay&, Block& block) { block.why.clear(); });
}

bool rename_work(Finished& f) {
  return change_block(f, any_of_them, [](PlannedDay&, Block& block) { block.work = "juggling"; });
}

bool home_where_there_is_none(Finished& f) {
  return change_block(
      f, [&](const PlannedDay&, const Block& block) { return !kind_of(f, block).home; },
      [](PlannedDay&, Block& block) { block.size = BlockSize::home; });
}

bool claim_a_longer_slot(Finished& f) {
  const std::optional<Date> date = any_day(f, [](const PlannedDay&) { return true; });
  if (date) editor(f).day(*date).slot_minutes += 15;
  return date.has_value();
}

bool shift_day_out_of_week(Finished& f) {
  const std::optional<Date> date = any_day(f, [](const PlannedDay&) { return true; });
  if (date) editor(f).day(*date).date += Days{7};
  return date.has_value();
}

}  // namespace

std::vector<Mutation> day_mutations() {
  return {{"a block longer than the slot", "slot-minutes", overfill},
          {"a block a minute longer than its shape", "block-shape", change_minutes},
          {"a block done twice", "slot-repeat", repeat_block},
          {"more blocks than a slot may hold", "slot-blocks", add_blocks},
          {"everything on a hard day a rehearsal", "slot-hard", second_hard_block},
          {"the lift after a run", "block-order", lift_last},
          {"a run of 60 km", "run-length", lengthen_run},
          {"a deadlift on the day after a deadlift", "deadlift-spacing", lift_on_the_next_day},
          {"intervals on the day after intervals", "intervals-in-a-row",
           [](Finished& f) { return intervals_next_to(f, "intervals", 1); }},
          {"intervals on the day before a deadlift", "intervals-before-deadlift",
           [](Finished& f) { return intervals_next_to(f, "lift", -1); }},
          {"a block without a reason", "form-text", drop_reason},
          {"work that nobody knows", "unknown-work", rename_work},
          {"a home block that needs kit", "home-blocks", home_where_there_is_none},
          {"a slot said to be longer", "slot-figures", claim_a_longer_slot},
          {"a day in the wrong week", "form-days", shift_day_out_of_week}};
}

}  // namespace backplan::testing
