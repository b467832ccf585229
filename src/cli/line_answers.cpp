#include "cli/line_answers.hpp"

#include <condition_variable>
#include <deque>
#include <istream>
#include <memory>
#include <mutex>
#include <ostream>
#include <streambuf>
#include <thread>
#include <utility>
#include <vector>

#include "store/failures.hpp"

namespace backplan::cli {
namespace {

// Lines in the pipeline for each job: one being answered, one ready, some to even out slow ones.
constexpr std::size_t kLinesAJob = 8;

// One line on its way.
struct Item {
  Line line;
  std::string answer;
  bool answered = false;
};

// Lines between the reader, the threads that answer and the writer, in order of arrival.
class Queue {
 public:
  explicit Queue(std::size_t most) : most_(most) {}

  // Waits until there is room.
  void put(Line line) {
    std::unique_lock lock(mutex_);
    changed_.wait(lock, [this] { return items_.size() < most_; });
    items_.push_back(std::make_shared<Item>(Item{std::move(line), {}, false}));
    changed_.notify_all();
  }

  void close() {
    const std::lock_guard lock(mutex_);
    closed_ = true;
    changed_.notify_all();
  }

  // The oldest line that nobody has taken; nothing once there will be no more.
  std::shared_ptr<Item> take() {
    std::unique_lock lock(mutex_);
    changed_.wait(lock, [this] { return taken_ < items_.size() || closed_; });
    if (taken_ == items_.size()) return nullptr;
    return items_[taken_++];
  }

  void answered(Item& item, std::string answer) {
    const std::lock_guard lock(mutex_);
    item.answer = std::move(answer);
    item.answered = true;
    changed_.notify_all();
  }

  // The oldest line once it is answered, out of the queue; nothing at the end. `before_waiting` is
  // called when it is not ready yet.
  std::shared_ptr<Item> finished(const std::function<void()>& before_waiting) {
    std::unique_lock lock(mutex_);
    const auto ready = [this] { return items_.empty() ? closed_ : items_.front()->answered; };
    if (!ready()) {
      lock.unlock();
      before_waiting();
      lock.lock();
      changed_.wait(lock, ready);
    }
    if (items_.empty()) return nullptr;
    auto item = items_.front();
    items_.pop_front();
    --taken_;
    changed_.notify_all();
    return item;
  }

 private:
  std::size_t most_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<std::shared_ptr<Item>> items_;
  std::size_t taken_ = 0;  // of the items, from the front
  bool closed_ = false;
};

class CloseAtEnd {
 public:
  explicit CloseAtEnd(Queue& queue) : queue_(queue) {}
  CloseAtEnd(const CloseAtEnd&) = delete;
  CloseAtEnd& operator=(const CloseAtEnd&) = delete;
  ~CloseAtEnd() { queue_.close(); }

 private:
  Queue& queue_;
};

// A directory, say, opens as a file does and cannot be read.
std::istream::int_type next_byte(std::istream& in) {
  try {
    return in.rdbuf()->sbumpc();
  } catch (const std::ios_base::failure&) {
    throw store::IoFailure("cannot read standard input", "give it a file or the output of another program");
  }
}

}  // namespace

std::optional<Line> next_line(std::istream& in, std::size_t number, std::size_t most_bytes) {
  using Traits = std::istream::traits_type;
  std::string text;
  bool too_long = false;
  auto byte = next_byte(in);
  if (Traits::eq_int_type(byte, Traits::eof())) return std::nullopt;
  while (!Traits::eq_int_type(byte, Traits::eof()) && byte != '\n') {
    if (text.size() < most_bytes) {
      text += Traits::to_char_type(byte);
    } else {
      too_long = true;
    }
    byte = next_byte(in);
  }
  if (too_long) return Line{number, std::nullopt};
  if (!text.empty() && text.back() == '\r') text.pop_back();
  return Line{number, std::move(text)};
}

void answer_lines(std::istream& in, std::ostream& out, LineLimits limits,
                  const std::function<std::string(const Line&)>& answer) {
  const auto jobs = static_cast<std::size_t>(limits.jobs);
  Queue queue(jobs * kLinesAJob);
  std::vector<std::jthread> threads;
  // Declared after the threads and before any begins, so that they are told of the end whichever way this
  // function is left: where the system has no thread more, those that wait would be waited for for ever.
  const CloseAtEnd closing(queue);
  for (std::size_t i = 0; i < jobs; ++i) {
    threads.emplace_back([&queue, &answer] {
      while (const auto item = queue.take()) queue.answered(*item, answer(item->line));
    });
  }
  threads.emplace_back([&queue, &out] {
    while (const auto item = queue.finished([&out] { out.flush(); })) out << item->answer;
    out.flush();
  });
  std::size_t number = 0;
  while (auto line = next_line(in, ++number, limits.most_bytes)) queue.put(std::move(*line));
}

}  // namespace backplan::cli
