// The strictest scalar that the library must accept: no conversion in or out, comparisons give a mask that is no bool.
// A formula that compiles on it will run in lanes without being rewritten.
#pragma once

#include <cmath>

#include "hardchine/scalar/scalar.hpp"

class StrictMask {
 public:
  friend bool any(const StrictMask& m) { return m.holds_; }
  friend bool all(const StrictMask& m) { return m.holds_; }
  friend StrictMask both(const StrictMask& a, const StrictMask& b) { return StrictMask(a.holds_ && b.holds_); }
  friend StrictMask either(const StrictMask& a, const StrictMask& b) { return StrictMask(a.holds_ || b.holds_); }
  friend StrictMask negate(const StrictMask& a) { return StrictMask(!a.holds_); }

  explicit StrictMask(bool holds) : holds_(holds) {}

 private:
  bool holds_;
};

class Strict {
 public:
  Strict() = default;
  explicit Strict(double v) : v_(v) {}
  // For tests only: what the formula computed.
  double reveal() const { return v_; }

  friend Strict operator+(const Strict& a, const Strict& b) { return Strict(a.v_ + b.v_); }
  friend Strict operator-(const Strict& a, const Strict& b) { return Strict(a.v_ - b.v_); }
  friend Strict operator*(const Strict& a, const Strict& b) { return Strict(a.v_ * b.v_); }
  friend Strict operator/(const Strict& a, const Strict& b) { return Strict(a.v_ / b.v_); }
  friend Strict operator+(const Strict& a, double b) { return Strict(a.v_ + b); }
  friend Strict operator-(const Strict& a, double b) { return Strict(a.v_ - b); }
  friend Strict operator*(const Strict& a, double b) { return Strict(a.v_ * b); }
  friend Strict operator/(const Strict& a, double b) { return Strict(a.v_ / b); }
  friend Strict operator+(double a, const Strict& b) { return Strict(a + b.v_); }
  friend Strict operator-(double a, const Strict& b) { return Strict(a - b.v_); }
  friend Strict operator*(double a, const Strict& b) { return Strict(a * b.v_); }
  friend Strict operator/(double a, const Strict& b) { return Strict(a / b.v_); }
  Strict operator-() const { return Strict(-v_); }
  Strict& operator+=(const Strict& b) { return *this = *this + b; }
  Strict& operator-=(const Strict& b) { return *this = *this - b; }
  Strict& operator*=(const Strict& b) { return *this = *this * b; }
  Strict& operator/=(const Strict& b) { return *this = *this / b; }

  friend StrictMask operator<(const Strict& a, const Strict& b) { return StrictMask(a.v_ < b.v_); }
  friend StrictMask operator>(const Strict& a, const Strict& b) { return StrictMask(a.v_ > b.v_); }
  friend StrictMask operator<=(const Strict& a, const Strict& b) { return StrictMask(a.v_ <= b.v_); }
  friend StrictMask operator>=(const Strict& a, const Strict& b) { return StrictMask(a.v_ >= b.v_); }
  friend Strict select(const StrictMask& m, const Strict& a, const Strict& b) { return any(m) ? a : b; }

  friend Strict sqrt(const Strict& x) { return Strict(std::sqrt(x.v_)); }
  friend Strict exp(const Strict& x) { return Strict(std::exp(x.v_)); }
  friend Strict log(const Strict& x) { return Strict(std::log(x.v_)); }
  friend Strict log10(const Strict& x) { return Strict(std::log10(x.v_)); }
  friend Strict pow(const Strict& x, double p) { return Strict(std::pow(x.v_, p)); }
  friend Strict sin(const Strict& x) { return Strict(std::sin(x.v_)); }
  friend Strict cos(const Strict& x) { return Strict(std::cos(x.v_)); }
  friend Strict tan(const Strict& x) { return Strict(std::tan(x.v_)); }
  friend Strict atan(const Strict& x) { return Strict(std::atan(x.v_)); }
  friend Strict tanh(const Strict& x) { return Strict(std::tanh(x.v_)); }
  friend StrictMask is_finite(const Strict& x) { return StrictMask(std::isfinite(x.v_)); }
  friend Strict plain(const Strict& x) { return x; }

 private:
  double v_ = 0.0;
};

template <class X>
void assign_where(X& target, const StrictMask& mask, const X& value) {
  if (any(mask)) target = value;
}
inline void raise_where(std::uint32_t& target, const StrictMask& mask, std::uint32_t value) {
  if (any(mask)) target |= value;
}
