// A bar on standard error for work that takes longer than half a second, where a terminal is there.
#pragma once

#include <functional>

#include "cli/session.hpp"

namespace backplan::cli {

class ProgressBar {
 public:
  explicit ProgressBar(const Session& session);
  ~ProgressBar();
  ProgressBar(const ProgressBar&) = delete;
  ProgressBar& operator=(const ProgressBar&) = delete;

  // To be called with the share of the work that is done, 0 to 1; nothing without a terminal.
  [[nodiscard]] std::function<void(double)> teller();

 private:
  const Session& session_;
  double began_ = 0.0;
  int shown_ = -1;  // characters of the bar; none yet
};

}  // namespace backplan::cli
