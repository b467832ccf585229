#include "report/score_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/value_text.hpp"
#include "report/table.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

std::string next_text(const EventScore& score, const Event& event, bool pass_or_fail, Marks& marks) {
  if (!score.result) return "a first result";
  if (!score.next)
    return pass_or_fail ? "nothing more" : (score.points ? "the top of the scale" : "not known");
  marks.note(score.next->origin);
  const double wanted = score.next->result;
  if (pass_or_fail) {
    return fmt::format("a pass{} for {} ({})", mark(score.next->origin), format_result(wanted, event),
                       say_step(*score.result, wanted, event));
  }
  return fmt::format("{}{} for {} ({})", to_string(score.next->points), mark(score.next->origin),
                     format_result(wanted, event), say_step(*score.result, wanted, event));
}

// The total with the mark of its weakest part.
std::string total_text(const ScoreCard& card, bool pass_or_fail, Marks& marks) {
  if (!card.total) return "- ";
  if (pass_or_fail) return fmt::format("{} of {} ", to_string(*card.total), card.events.size());
  Origin weakest = Origin::official;
  for (const EventScore& score : card.events) {
    const bool weaker = mark(score.origin) == "?" || (mark(score.origin) == "~" && mark(weakest).empty());
    if (weaker) weakest = score.origin;
  }
  return marks.points(card.total, weakest);
}

std::string event_table(const ScoreView& view, const Names& names, Marks& marks) {
  Table table({Align::left, Align::right, Align::left, Align::left, Align::right, Align::left});
  table.add({"event", "result", "done on", "setting", names.standard.pass_or_fail ? "passed " : "points ",
             names.standard.pass_or_fail ? "still to do" : "next row up"});
  for (const EventScore& score : view.card.events) {
    const Event* event = names.standard.find_event(score.event);
    if (event == nullptr) continue;
    const auto done = std::find_if(view.latest.begin(), view.latest.end(),
                                   [&score](const DatedResult& one) { return one.event == score.event; });
    const bool known = score.result && done != view.latest.end();
    table.add({names.event(score.event), known ? format_result(*score.result, *event) : "none",
               known ? io::say_date(done->date) : "", known ? to_string(done->setting) : "",
               known ? marks.points(score.points, score.origin) : "- ",
               next_text(score, *event, names.standard.pass_or_fail, marks)});
  }
  table.add({"total", "", "", "", total_text(view.card, names.standard.pass_or_fail, marks), ""});
  return table.text("  ");
}

std::string verdict(const ScoreCard& card, bool of_record) {
  if (!card.pass) return "not known yet";
  if (of_record) return *card.pass ? "passes" : "fails";
  return *card.pass ? "would pass" : "would fail";
}

std::string verdicts(const ScoreView& view, const Names& names) {
  std::string text;
  for (const ScoreCard& card : view.all) {
    const bool own = card.category == view.card.category;
    text += fmt::format("{}{}: {}", names.category(card.category), own ? " (yours)" : "",
                        verdict(card, view.of_record));
    if (card.total && names.standard.pass_or_fail)
      text += fmt::format(", {} of {} events", to_string(*card.total), card.events.size());
    else if (card.total)
      text += fmt::format(", total {}", to_string(*card.total));
    text += '\n';
    for (const std::string& reason : card.reasons) text += wrap(reason, kPageWidth, "    ", "  - ");
  }
  if (!view.of_record) {
    text += "\"would\": not every result is from a test of record.\n";
  }
  return text;
}

std::string fitted_text(const ScoreView& view, const Names& names) {
  if (view.fitted.empty()) return {};
  std::string text = "\nBy the journal, today (fitted, not a result: it scores nothing)\n";
  for (const FitReport& report : view.fitted) {
    text += fmt::format("  {}: about {}, 8 in 10 between {} and {}\n", names.event(report.event),
                        names.estimate(report.event, report.now_result),
                        names.estimate(report.event, report.now_low80),
                        names.estimate(report.event, report.now_high80));
  }
  return text;
}

}  // namespace

std::string score_text(const ScoreView& view, const Candidate& candidate, const Names& names) {
  Marks marks(names.standard.pass_or_fail);
  std::string text =
      fmt::format("{}: {}, {}\nscored on the {} column, age {} on {} (band {})\n\n", printable(candidate.id),
                  names.standard.id, names.category(view.card.category), view.card.column, view.card.age,
                  io::say_date(candidate.test_date), to_string(view.card.band));
  text += event_table(view, names, marks);
  text += '\n' + verdicts(view, names);
  text += fitted_text(view, names);
  const std::string legend = marks.legend();
  return legend.empty() ? text : text + '\n' + legend;
}

}  // namespace backplan::report
