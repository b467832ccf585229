#include "lab/response.hpp"

#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"
#include "backplan/progress.hpp"

namespace backplan::lab {
namespace {

constexpr double kDays = 7.0;
constexpr double kWeeksToBend = 6.0;     // of the logarithm
constexpr double kPowerOfDose = 0.6;     // within a week
constexpr double kWeeksOfPower = 2.0;    // from which on growth goes with the square root of the weeks
constexpr double kFitnessDays = 45.0;    // customary constants (Morton 1990)
constexpr double kFatigueDays = 15.0;    // the same
constexpr double kFatigue = 0.02;        // of v at the steady reference dose
constexpr double kThresholdShare = 0.3;  // of the way from keep to reference that brings nothing
constexpr double kEnough = 1.15;         // doses above the threshold bring no more than this
constexpr double kRegainRate = 2.0;      // of the rate of loss

double log_dose(const Dose& dose, double week) {
  const auto g = [&](double u) { return numeric::log(1.0 + u / dose.u0); };
  return (g(week) - g(dose.keep)) / (g(dose.reference) - g(dose.keep));
}

double power_dose(const Dose& dose, double week) {
  const auto g = [](double u) { return u <= 0.0 ? 0.0 : numeric::pow(u, kPowerOfDose); };
  return (g(week) - g(dose.keep)) / (g(dose.reference) - g(dose.keep));
}

double threshold_dose(const Dose& dose, double week) {
  const double from = dose.keep + kThresholdShare * (dose.reference - dose.keep);
  return std::min(kEnough, (week - from) / (dose.reference - from));
}

}  // namespace

std::string to_string(Family family) {
  switch (family) {
    case Family::as_assumed:
      return "as assumed";
    case Family::logarithmic:
      return "logarithmic";
    case Family::power:
      return "power";
    case Family::two_states:
      return "two states";
    case Family::threshold:
      return "threshold";
    case Family::non_responder:
      return "non-responders";
    case Family::changed_transfer:
      return "changed transfer";
  }
  return {};
}

const std::vector<Family>& strange_families() {
  static const std::vector<Family> kAll = {Family::logarithmic,   Family::power,
                                           Family::two_states,    Family::threshold,
                                           Family::non_responder, Family::changed_transfer};
  return kAll;
}

Response::Response(const Traits& traits) : traits_(traits) { last_.fill(traits.dose.keep / kDays); }

double Response::ability() const { return traits_.start + growth() - loss_; }

double Response::dose_of(double week) const {
  double dose = 0.0;
  switch (traits_.family) {
    case Family::logarithmic:
      dose = log_dose(traits_.dose, week);
      break;
    case Family::power:
      dose = power_dose(traits_.dose, week);
      break;
    case Family::threshold:
      dose = threshold_dose(traits_.dose, week);
      break;
    case Family::as_assumed:
    case Family::two_states:
    case Family::non_responder:
    case Family::changed_transfer:
      dose = dose_gain(traits_.dose, week);
      break;
  }
  return std::max(0.0, dose);
}

double Response::growth() const {
  const double h = traits_.h;
  const double k = traits_.k;
  if (traits_.family == Family::two_states) return h * fitness_ - kFatigue * fatigue_;
  if (traits_.family == Family::logarithmic)
    return h * k * kWeeksToBend * numeric::log(1.0 + dosage_ / kWeeksToBend);
  if (traits_.family == Family::power)
    return 2.0 * h * k * kWeeksOfPower * (std::sqrt(1.0 + dosage_ / kWeeksOfPower) - 1.0);
  return h * (1.0 - numeric::exp(-k * dosage_));
}

void Response::pass(double stimulus) {
  last_[today_] = stimulus;
  today_ = (today_ + 1) % kDaysInWeek;
  if (traits_.family == Family::two_states) {
    // A steady week at the keep dose holds; at the reference dose fitness goes to 1 and fatigue to 1.
    const Dose& dose = traits_.dose;
    const double u = (stimulus * kDays - dose.keep) / (dose.reference - dose.keep);
    fitness_ = fitness_ * numeric::exp(-1.0 / kFitnessDays) + u / kFitnessDays;
    fatigue_ = fatigue_ * numeric::exp(-1.0 / kFatigueDays) + u / kFatigueDays;
    return;
  }
  double week = 0.0;
  for (const double day : last_) week += day;
  hidden_.push_back(dose_of(week) / kDays);
  if (hidden_.size() > static_cast<std::size_t>(traits_.shows_after_days)) {
    dosage_ += hidden_.front();
    hidden_.pop_front();
  }
  pass_loss(week, stimulus);
}

void Response::pass_loss(double week, double stimulus) {
  const double rate = traits_.loss_per_week / kDays;
  constexpr double kNoShortfall = 1e-9;  // rounding of a week at exactly the keep dose
  const double shortfall = 1.0 - week / traits_.dose.keep;
  if (shortfall <= kNoShortfall) {
    gap_ = 0.0;
    loss_ = std::max(0.0, loss_ - kRegainRate * rate);
    return;
  }
  gap_ += 1.0;
  // Complete rest is free for a while; doing too little, week after week, is not for as long.
  if (gap_ <= traits_.grace_days && (stimulus <= 0.0 || gap_ <= kDays)) return;
  loss_ = std::min(traits_.loss_cap, loss_ + rate * shortfall);
}

}  // namespace backplan::lab
