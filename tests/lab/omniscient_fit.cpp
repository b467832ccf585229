#include "lab/omniscient_fit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "backplan/numeric.hpp"
#include "backplan/progress.hpp"

namespace backplan::lab {
namespace {

constexpr int kDaysInWeek = 7;
constexpr std::size_t kAmounts = 10;
constexpr double kMostAmount = 2.0;  // of the reference dose
constexpr double kLeastShare = 1e-6;

// What the response is after the days, less what it is today: `u` a week, or in every second week only.
double change(Response response, int days, double u, double other) {
  const double before = response.ability();
  for (int day = 0; day < days; ++day) {
    const bool odd = (day / kDaysInWeek) % 2 == 1;
    response.pass((odd ? other : u) / kDaysInWeek);
  }
  return response.ability() - before;
}

struct Experiment {
  double u = 0.0;
  double steady = 0.0, halved = 0.0;  // changes of v
};

class Fitting {
 public:
  Fitting(const Response& response, int days, int idle) : response_(response) {
    weeks_ = std::max(1, days - idle) / static_cast<double>(kDaysInWeek);
    const Dose& dose = response.traits().dose;
    for (std::size_t i = 0; i < kAmounts; ++i) {
      const double share = static_cast<double>(i) / static_cast<double>(kAmounts - 1);
      Experiment one;
      one.u = kMostAmount * dose.reference * share;
      one.steady = change(response, days, one.u, one.u);
      one.halved = change(response, days, one.u, dose.keep);
      experiments_.push_back(one);
    }
  }

  Linearised best() {
    const Dose& own = response_.traits().dose;
    for (const double keep : {0.6, 0.8, 1.0, 1.2, 1.5, 1.9}) {
      for (const double u0 : {0.4, 0.8, 1.3, 2.2, 5.0, 12.0}) {
        const double level = std::min(keep * own.keep, 0.9 * own.reference);
        try_curve({u0, level, own.reference});
      }
    }
    return best_;
  }

 private:
  void try_curve(const Dose& dose) {
    const DoseCurve curve(dose);
    std::array<double, kAmounts> gain{};
    double up = 0.0;
    double across = 0.0;
    for (std::size_t i = 0; i < kAmounts; ++i) {
      gain[i] = curve.gain(experiments_[i].u);
      const double fall = weeks_ * curve.shortfall(experiments_[i].u);
      up += fall * -experiments_[i].steady;
      across += fall * fall;
    }
    const double rate = across > 0.0 ? std::max(0.0, up / across) : 0.0;
    for (const double k : {0.003, 0.01, 0.02, 0.04, 0.07, 0.1, 0.14, 0.2, 0.3, 0.5})
      try_rate(dose, curve, gain, rate, k);
  }

  void try_rate(const Dose& dose, const DoseCurve& curve, const std::array<double, kAmounts>& gain,
                double rate, double k) {
    double up = 0.0;
    double across = 0.0;
    std::array<double, kAmounts> steady{};
    std::array<double, kAmounts> halved{};
    std::array<double, kAmounts> fall{};
    for (std::size_t i = 0; i < kAmounts; ++i) {
      steady[i] = 1.0 - numeric::exp(-k * weeks_ * gain[i]);
      halved[i] = 1.0 - numeric::exp(-k * weeks_ * gain[i] / 2.0);
      fall[i] = rate * weeks_ * curve.shortfall(experiments_[i].u);
      if (gain[i] <= 0.0) continue;
      up += steady[i] * experiments_[i].steady + halved[i] * experiments_[i].halved;
      across += steady[i] * steady[i] + halved[i] * halved[i];
    }
    const double h = across > kLeastShare ? std::max(0.0, up / across) : 0.0;
    double squares = 0.0;
    for (std::size_t i = 0; i < kAmounts; ++i) {
      const double off = experiments_[i].steady - h * steady[i] + fall[i];
      const double half = experiments_[i].halved - h * halved[i] + fall[i] / 2.0;
      squares += off * off + half * half;
    }
    if (squares >= least_) return;
    least_ = squares;
    best_ = {dose, h, k, rate};
  }

  const Response& response_;
  double weeks_ = 1.0;
  std::vector<Experiment> experiments_;
  Linearised best_;
  double least_ = std::numeric_limits<double>::infinity();
};

}  // namespace

Linearised linearise(const Response& response, int days, int idle) {
  return Fitting(response, days, idle).best();
}

}  // namespace backplan::lab
