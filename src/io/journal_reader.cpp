#include "io/journal_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <utility>

#include "io/characters.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr std::string_view kKept = "the line is kept and does not count; correct it by hand, or log it anew";

// An import: its entries, and what its closing line says of their number.
struct Batch {
  int first_line = 0;
  std::set<std::string> ids;  // a merge may bring a line twice
  std::optional<int> count;
  int closed_in_line = 0;
};

class Reader {
 public:
  Reader(const std::string& file, const EntryContext& context) : context_(context) { journal_.file = file; }

  void take(std::string_view line, int number) {
    if (line.find_first_not_of(" \t\r") == std::string_view::npos) return;
    auto parsed = parse_json(line, journal_.file);
    if (!parsed.ok()) {
      Diagnostic first = parsed.faults().front();
      first.hint = kKept;
      warn(std::move(first), number);
      return;
    }
    Diagnostics faults;
    read(JsonCursor(parsed.value(), faults), faults, number);
    for (Diagnostic& fault : faults) warn(std::move(fault), number);
  }

  Result<Journal> finish() {
    if (!foreign_.empty()) return foreign_;
    judge_batches();
    sort_by_place(journal_.warnings);
    return std::move(journal_);
  }

 private:
  void warn(Diagnostic fault, int number) {
    fault.line = number;
    fault.severity = Severity::warning;
    journal_.warnings.push_back(std::move(fault));
  }

  void warn_line(int number, std::string message, std::string hint) {
    warn({Severity::warning, journal_.file, number, 1, "", std::move(message), std::move(hint)}, number);
  }

  void read(const JsonCursor& root, Diagnostics& faults, int number) {
    if (root.has("format")) {
      read_head(root, number);
    } else if (root.has("count")) {
      read_closing(root, number);
    } else if (auto entry = read_entry(root, context_)) {
      entry->line = number;
      add(*std::move(entry));
    } else if (!faults.empty()) {
      if (faults.back().hint.empty()) faults.back().hint = kKept;
    }
  }

  void read_head(const JsonCursor& root, int number) {
    const JsonCursor format = root.optional("format");
    if (format.is_text() && format.text() == kJournalFormat) {
      root.allow_only({"format"});
      return;
    }
    const std::string found = format.is_text() ? fmt::format("\"{}\"", *format.text()) : "something else";
    foreign_.push_back({Severity::error, journal_.file, number, 1, "/format",
                        fmt::format("this program reads \"{}\", found {}", kJournalFormat, found),
                        "use the version of the program that wrote it; the file was not changed"});
  }

  void read_closing(const JsonCursor& root, int number) {
    root.allow_only({"batch", "count"});
    const auto id = root.required("batch").text();
    const auto count = root.required("count").integer(1, kMostEntries);
    if (!id || !count) return;
    Batch& batch = batches_[*id];
    batch.count = *count;
    batch.closed_in_line = number;
  }

  void add(Entry entry) {
    if (!entry.batch.empty()) {
      Batch& batch = batches_[entry.batch];
      if (batch.ids.empty()) batch.first_line = entry.line;
      batch.ids.insert(entry.id);
    }
    if (entry.date > context_.as_of) {
      warn_line(
          entry.line,
          fmt::format("dated {}, after today, {}: ignored", say_date(entry.date), say_date(context_.as_of)),
          "correct the date, or give --as-of a later day");
      return;
    }
    journal_.entries.push_back(std::move(entry));
  }

  // A batch without its closing line was cut off while it was written: none of it counts.
  void judge_batches() {
    for (const auto& [id, batch] : batches_) {
      if (!batch.count) {
        warn_line(batch.first_line,
                  fmt::format("an import that was cut off begins here; its {} entries do not count",
                              batch.ids.size()),
                  "import the file again");
        drop(id);
      } else if (static_cast<int>(batch.ids.size()) != *batch.count) {
        warn_line(batch.closed_in_line,
                  fmt::format("the import that ends here had {} entries, of which {} can be read",
                              *batch.count, batch.ids.size()),
                  "import the file again, which adds what is missing; or correct \"count\" in this line");
      }
    }
  }

  void drop(const std::string& batch) {
    auto& entries = journal_.entries;
    entries.erase(std::remove_if(entries.begin(), entries.end(),
                                 [&batch](const Entry& entry) { return entry.batch == batch; }),
                  entries.end());
  }

  static constexpr int kMostEntries = 1'000'000;

  const EntryContext& context_;
  Journal journal_;
  Diagnostics foreign_;
  std::map<std::string, Batch> batches_;
};

}  // namespace

Result<Journal> read_journal(std::string_view text, const std::string& file, const EntryContext& context) {
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) text.remove_prefix(kByteOrderMark.size());
  Reader reader(file, context);
  int number = 1;
  for (std::size_t start = 0; start < text.size(); ++number) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    reader.take(text.substr(start, end - start), number);
    start = end + 1;
  }
  return reader.finish();
}

}  // namespace backplan::io
