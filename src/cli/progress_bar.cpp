#include "cli/progress_bar.hpp"

#include <ostream>
#include <string>

namespace backplan::cli {
namespace {
constexpr double kPatience = 0.5;  // seconds without a word
constexpr int kWidth = 40;         // characters
}  // namespace

ProgressBar::ProgressBar(const Session& session) : session_(session) {
  if (session_.environment.seconds) began_ = session_.environment.seconds();
}

ProgressBar::~ProgressBar() {
  if (shown_ >= 0) session_.streams.err << '\r' << std::string(kWidth + 2, ' ') << '\r' << std::flush;
}

std::function<void(double)> ProgressBar::teller() {
  if (!session_.environment.terminal || !session_.environment.seconds) return {};
  return [this](double share) {
    const int done = static_cast<int>(share * kWidth);
    if (done == shown_ || session_.environment.seconds() - began_ < kPatience) return;
    shown_ = done;
    const auto filled = static_cast<std::size_t>(done);
    session_.streams.err << "\r[" << std::string(filled, '#') << std::string(kWidth - filled, '.') << ']'
                         << std::flush;
  };
}

}  // namespace backplan::cli
