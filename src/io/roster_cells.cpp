#include "io/roster_cells.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "io/cells.hpp"
#include "io/json_text.hpp"

namespace backplan::io {
namespace {

constexpr std::string_view kFormula = "=+-@\t\r";
constexpr const char* kMedicalHint =
    "write none, pregnant, postpartum, postpartum cleared DATE, or profile until DATE permits push_up+trunk";

std::vector<std::string> work_ids(const Model& model) {
  std::vector<std::string> ids;
  for (const WorkKind& kind : model.work) ids.push_back(kind.id);
  return ids;
}

// Empty where the word is a work kind; else what is wrong with it.
std::string unknown_work(const std::string& word, const Model& model, std::string& hint) {
  if (model.find_work(word) != nullptr) return {};
  const auto ids = work_ids(model);
  const auto near = nearest_word(word, ids);
  hint = near ? fmt::format("did you mean \"{}\"?", *near) : fmt::format("known: {}", fmt::join(ids, ", "));
  return fmt::format("unknown work kind \"{}\"", word);
}

std::string below_zero(Points target) {
  return fmt::format("a target of {} points; it begins at 0", to_string(target));
}

template <class T>
Reading<T> wrong(std::string problem, std::string hint) {
  return {std::nullopt, std::move(problem), std::move(hint)};
}

}  // namespace

std::vector<std::string> parts_of(const std::string& text, char separator) {
  std::vector<std::string> parts;
  for (std::size_t start = 0; start <= text.size();) {
    const std::size_t end = std::min(text.find(separator, start), text.size());
    std::string part = text.substr(start, end - start);
    part.erase(0, std::min(part.find_first_not_of(' '), part.size()));
    part.erase(part.find_last_not_of(' ') + 1);
    if (!part.empty()) parts.push_back(std::move(part));
    start = end + 1;
  }
  return parts;
}

Reading<std::vector<Avoid>> read_avoid_cell(const std::string& text, const Model& model) {
  std::vector<Avoid> out;
  for (const std::string& part : parts_of(text, '+')) {
    const auto words = parts_of(part, ' ');
    Avoid avoid;
    std::string hint;
    if (const std::string problem = unknown_work(words.front(), model, hint); !problem.empty())
      return wrong<std::vector<Avoid>>(problem, hint);
    avoid.work = words.front();
    if (words.size() != 1 && !(words.size() == 3 && words[1] == "until"))
      return wrong<std::vector<Avoid>>(fmt::format("expected a work kind, found \"{}\"", part),
                                       "for example deadlift+intervals until 2027-01-10");
    if (words.size() == 3) {
      const auto until = read_date(words[2]);
      if (!until.value) return wrong<std::vector<Avoid>>(until.problem, until.hint);
      avoid.until = *until.value;
    }
    out.push_back(std::move(avoid));
  }
  for (std::size_t i = out.size(); i-- > 1;) {
    if (!out[i - 1].until) out[i - 1].until = out[i].until;
  }
  return {out, {}, {}};
}

Reading<Medical> read_medical_cell(const std::string& text, const Model& model) {
  const auto words = parts_of(text, ' ');
  Medical out;
  if (words.empty() || text == "none") return {out, {}, {}};
  if (words[0] == "pregnant" && words.size() == 1) {
    out.status = MedicalStatus::pregnant;
    return {out, {}, {}};
  }
  const bool profile = words[0] == "profile";
  if (!profile && words[0] != "postpartum")
    return wrong<Medical>(fmt::format("\"{}\" is no medical status", text), kMedicalHint);
  out.status = profile ? MedicalStatus::profile : MedicalStatus::postpartum;
  for (std::size_t i = 1; i < words.size(); i += 2) {
    if (i + 1 == words.size())
      return wrong<Medical>(fmt::format("nothing follows \"{}\"", words[i]), kMedicalHint);
    if (profile && words[i] == "permits") {
      for (const std::string& work : parts_of(words[i + 1], '+')) {
        std::string hint;
        if (const std::string problem = unknown_work(work, model, hint); !problem.empty())
          return wrong<Medical>(problem, hint);
        out.permitted.insert(work);
      }
      continue;
    }
    const auto date = read_date(words[i + 1]);
    if (!date.value) return wrong<Medical>(date.problem, date.hint);
    if (profile && words[i] == "until") {
      out.until = *date.value;
    } else if (profile && words[i] == "since") {
      out.since = *date.value;
    } else if (!profile && words[i] == "cleared") {
      out.cleared_on = *date.value;
    } else {
      return wrong<Medical>(fmt::format("\"{}\" is not known here", words[i]), kMedicalHint);
    }
  }
  if (profile && !out.until) return wrong<Medical>("a profile needs its last day", kMedicalHint);
  return {out, {}, {}};
}

Reading<std::vector<BlockedSpell>> read_absent_cell(const std::string& text) {
  std::vector<BlockedSpell> out;
  for (const std::string& part : parts_of(text, '+')) {
    const auto words = parts_of(part, ' ');
    if (words.size() != 1 && !(words.size() == 3 && words[1] == "to"))
      return wrong<std::vector<BlockedSpell>>(fmt::format("expected days, found \"{}\"", part),
                                              "for example 2027-01-04 to 2027-01-08");
    const auto from = read_date(words.front());
    const auto to = read_date(words.back());
    if (!from.value) return wrong<std::vector<BlockedSpell>>(from.problem, from.hint);
    if (!to.value) return wrong<std::vector<BlockedSpell>>(to.problem, to.hint);
    if (*to.value < *from.value)
      return wrong<std::vector<BlockedSpell>>(
          fmt::format("the last day, {}, is before the first", say_date(*to.value)), "exchange the two");
    out.push_back({*from.value, *to.value, BlockedKind::rest, "absent"});
  }
  return {out, {}, {}};
}

Reading<Target> read_target_cell(const std::string& text, const Target& otherwise) {
  Target out = otherwise;
  auto words = parts_of(text, ' ');
  if (words.empty()) return {out, {}, {}};
  out.total.reset();
  out.each.reset();
  const std::string hint =
      "write the points of the whole test, \"each 70\" for every event, or \"440 each 60\"";
  if (words.front() != "each") {
    out.total = read_points(words.front());
    if (!out.total) return wrong<Target>(fmt::format("\"{}\" is no number of points", words.front()), hint);
    words.erase(words.begin());
  }
  if (out.total && *out.total < Points()) return wrong<Target>(below_zero(*out.total), hint);
  if (words.empty()) return {out, {}, {}};
  if (words.size() == 2 && words.front() == "each") out.each = read_points(words.back());
  if (out.each && *out.each < Points()) return wrong<Target>(below_zero(*out.each), hint);
  if (!out.each) return wrong<Target>(fmt::format("\"{}\" is no target", text), hint);
  return {out, {}, {}};
}

std::string avoid_cell(const std::vector<Avoid>& avoid) {
  // Those without an end last: before a date they would be read as ending on it.
  std::vector<Avoid> ordered = avoid;
  std::stable_partition(ordered.begin(), ordered.end(),
                        [](const Avoid& one) { return one.until.has_value(); });
  std::string text;
  for (const Avoid& one : ordered) {
    text += (text.empty() ? "" : "+") + one.work;
    if (one.until) text += " until " + write_date(*one.until);
  }
  return text;
}

std::string medical_cell(const Medical& medical) {
  switch (medical.status) {
    case MedicalStatus::none:
      return {};
    case MedicalStatus::pregnant:
      return "pregnant";
    case MedicalStatus::postpartum:
      return medical.cleared_on ? "postpartum cleared " + write_date(*medical.cleared_on) : "postpartum";
    case MedicalStatus::profile:
      break;
  }
  std::string text = "profile";
  if (medical.since) text += " since " + write_date(*medical.since);
  if (medical.until) text += " until " + write_date(*medical.until);
  if (!medical.permitted.empty()) text += fmt::format(" permits {}", fmt::join(medical.permitted, "+"));
  return text;
}

std::string target_cell(const Target& target) {
  std::string text = target.total ? to_string(*target.total) : "";
  if (target.each) text += (text.empty() ? "each " : " each ") + to_string(*target.each);
  return text;
}

std::string absent_cell(const std::vector<BlockedSpell>& spells) {
  std::string text;
  for (const BlockedSpell& spell : spells) {
    text += (text.empty() ? "" : "+") + write_date(spell.from);
    if (spell.to != spell.from) text += " to " + write_date(spell.to);
  }
  return text;
}

std::string without_guard(const std::string& text) {
  const bool guarded = text.size() > 1 && text[0] == '\'' && kFormula.find(text[1]) != std::string_view::npos;
  return guarded ? text.substr(1) : text;
}

std::string with_guard(const std::string& text) {
  if (text.empty() || kFormula.find(text[0]) == std::string_view::npos) return text;
  return "'" + text;
}

}  // namespace backplan::io
