// Season by a group's common week: everybody does the same pack, less what their own rules forbid.
#include <algorithm>

#include "core/season.hpp"

namespace backplan {
namespace {

constexpr int kMostMore = 4;  // blocks that make up for what a deload would lack

int slot_blocks(const Pack& pack) {
  int blocks = 0;
  for (const KindCount& n : pack.kinds) blocks += n.full + n.shorter;
  return blocks;
}

}  // namespace

// Whether this person may not do some of the common work on a morning that is open: too much hard work,
// or a kind that is off. Mornings that are closed for everybody do not count.
bool SeasonPlanner::forbids_some(const Segment& segment) const {
  if (calendar_.hard_blocks(following_->pack) > segment.most_hard) return true;
  for (int i = segment.first; i < segment.first + segment.count; ++i) {
    const CalendarDay& day = calendar_.days()[static_cast<std::size_t>(i)];
    if (day.closed || day.usable == 0) continue;
    const std::uint32_t wanted =
        following_->stations.kinds[static_cast<std::size_t>(weekday_index(day.date))];
    if ((wanted & ~day.allowed) != 0) return true;
  }
  return false;
}

Allocation SeasonPlanner::following_columns(AllocationTask& task) {
  Allocation out;
  out.prices = following_->prices;
  for (Segment& segment : task.weeks) {
    if (segment.count == 0) {
      out.columns.push_back(search_.column_of(Pack{}, segment, 0));
      continue;
    }
    Column column = search_.fitted(segment, following_->pack, out.prices);
    const int dropped = slot_blocks(following_->pack) - slot_blocks(column.pack);
    if (dropped > 0 && forbids_some(segment)) {
      Segment wider = segment;
      wider.stations = following_->instead;
      wider.days += "|instead";
      wider.signature += "|instead";
      Column more = search_.filled(wider, column, out.prices, dropped);
      if (more.pack != column.pack) {
        column = std::move(more);
        segment = std::move(wider);
      }
    }
    out.columns.push_back(std::move(column));
  }
  return out;
}

// What a deload keeps of the common week; where that is too little, with a block more, or another week.
Pack SeasonPlanner::lighter_common_week(Segment& segment, const Pack& pack, int least_minutes) {
  if (forbids_some(segment)) {
    segment.stations = following_->instead;
    segment.days += "|instead";
  }
  const Prices& prices = following_->prices;
  Column column = search_.fitted(segment, pack, prices);
  if (column.minutes < least_minutes) column = search_.filled(segment, column, prices, kMostMore);
  if (column.minutes < least_minutes) column = search_.best(segment, prices, false);
  return column.pack;
}

Season SeasonPlanner::follow(const Following& following) {
  following_ = following;
  const int enough = 7 * 24 * 60;  // minutes: the mornings are the limit
  const auto season_with = [&](bool deloads) {
    AllocationTask task = task_for(enough, deloads);
    const Allocation columns = following_columns(task);
    return schedule(task, columns);
  };
  if (!needs_deload_choice()) return season_with(false);
  Season season = season_with(true);
  // Under so many hard sessions a week nobody needs a lighter week, and the rules give none.
  return trains_hard(season) || !has_deload(season) ? season : season_with(false);
}

}  // namespace backplan
