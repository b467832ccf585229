#include "io/squad_journal.hpp"

#include <algorithm>
#include <set>

#include "io/journal_reader.hpp"

namespace backplan::io {
namespace {

// An import over many people: every one of their journals gets a closing line of its own count.
struct Batch {
  std::set<std::string> ids;
  std::map<std::string, std::set<std::string>> ids_of;  // by person
  int count = -1;                                       // as the closing line has it
};

struct Line {
  Json json;
  std::string who;
  bool readable = false;
};

std::string text_at(const Json& json, const char* key) {
  const auto found = json.find(key);
  return found != json.end() && found->is_string() ? found->get<std::string>() : std::string();
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  for (std::size_t start = 0; start <= text.size();) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    lines.push_back(text.substr(start, end - start));
    start = end + 1;
  }
  return lines;
}

Line read_line(std::string_view text) {
  Line line;
  // The strict reader first: what it refuses goes to the common part, whose reader warns of it.
  if (text.empty() || !parse_json(text, "").ok()) return line;
  line.json = Json::parse(text, nullptr, false);
  line.readable = line.json.is_object();
  if (!line.readable) return line;
  line.who = text_at(line.json, "who");
  line.json.erase("who");
  return line;
}

class Parter {
 public:
  Parter(std::string_view text, const std::vector<Member>& members) : texts_(lines_of(text)) {
    for (const Member& member : members) members_.insert(member.candidate.id);
    for (const std::string_view one : texts_) lines_.push_back(read_line(one));
    for (const Line& line : lines_) note_batch(line);
  }

  // The journal of one person, with empty lines where the others' are; `who` empty: what is nobody's, such as
  // torn lines and heads.
  [[nodiscard]] std::string text_of(const std::string& who) const {
    std::string out;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      out += part(lines_[i], texts_[i], who);
      out += '\n';
    }
    return out;
  }

  [[nodiscard]] std::set<std::string> people() const {
    std::set<std::string> out;
    for (const Line& line : lines_) {
      if (members_.count(line.who) > 0) out.insert(line.who);
    }
    return out;
  }

 private:
  void note_batch(const Line& line) {
    if (!line.readable) return;
    const std::string id = text_at(line.json, "batch");
    if (id.empty()) return;
    Batch& batch = batches_[id];
    const auto count = line.json.find("count");
    if (count != line.json.end()) {
      batch.count = count->is_number_integer() ? count->get<int>() : -1;
      return;
    }
    const std::string entry = text_at(line.json, "id");
    batch.ids.insert(line.who + " " + entry);
    batch.ids_of[line.who].insert(entry);
  }

  [[nodiscard]] std::string part(const Line& line, std::string_view text, const std::string& who) const {
    if (!line.readable) return who.empty() ? std::string(text) : "";
    if (line.json.contains("count") && !line.json.contains("id")) {
      const auto batch = batches_.find(text_at(line.json, "batch"));
      if (batch == batches_.end()) return "";
      const auto own = batch->second.ids_of.find(who);
      if (own == batch->second.ids_of.end() ||
          batch->second.count != static_cast<int>(batch->second.ids.size()))
        return "";
      std::string closing = closing_line(batch->first, own->second.size());
      closing.pop_back();  // its line end
      return closing;
    }
    if (line.who.empty()) return who.empty() ? std::string(text) : "";
    return line.who == who ? line.json.dump(-1, ' ', false, Json::error_handler_t::replace) : "";
  }

  std::vector<std::string_view> texts_;
  std::vector<Line> lines_;
  std::set<std::string> members_;
  std::map<std::string, Batch> batches_;
};

void keep_new(const Diagnostics& more, Diagnostics& all) {
  for (const Diagnostic& one : more) {
    const bool known = std::any_of(all.begin(), all.end(), [&](const Diagnostic& other) {
      return other.line == one.line && other.message == one.message;
    });
    if (!known) all.push_back(one);
  }
}

}  // namespace

Result<SquadJournal> read_squad_journal(std::string_view text, const std::string& file,
                                        const std::vector<Member>& members, const EntryContext& context) {
  const Parter parter(text, members);
  SquadJournal out;
  auto common = read_journal(parter.text_of(""), file, context);
  if (!common.ok()) return common.faults();
  out.warnings = common.value().warnings;
  for (const Entry& entry : common.value().entries) {
    out.warnings.push_back({Severity::warning, file, entry.line, 1, "/who",
                            "it is not said who did this: ignored", "log it anew for one of the squad"});
  }
  for (const std::string& who : parter.people()) {
    auto journal = read_journal(parter.text_of(who), file, context);
    if (!journal.ok()) return journal.faults();
    keep_new(journal.value().warnings, out.warnings);
    out.by_id.emplace(who, std::move(journal).value());
  }
  sort_by_place(out.warnings);
  return out;
}

std::string squad_line(const Entry& entry, const std::string& who) {
  Json json;
  json["who"] = who;
  const Json entry_keys = entry_json(entry);
  for (auto key = entry_keys.begin(); key != entry_keys.end(); ++key) json[key.key()] = key.value();
  return json.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace backplan::io
