/// @file
/// Lanes<N>: N numbers at once, the scalar for sweeps, design spaces and Monte Carlo. Opt in.
///
/// A pack is an array of the machine's own vectors (two, four or eight doubles each), so that every operation is one
/// instruction a vector. (One vector of eight on a machine whose own are shorter was tried: g++ 12 takes its comparisons
/// apart lane by lane, clang 14 squeezes its masks through 16 bits.) Lanes never mix: what one holds, not-a-number and
/// infinity too, changes no digit of its neighbours, and a value gives the same digits in every place of the pack.
///
/// The functions are kernels of our own, since none of the kept libraries has all of them in double, and the functions
/// that they do have took two to eight times as long. Arguments are reduced in parts (Cody and Waite's way), rounded to whole numbers
/// by adding and taking away 1.5 2^52, and put through minimax polynomials, whose coefficients
/// tests/references/lane_kernels.py finds by Remez exchange in 60 digits. They know round-to-nearest only.
///
/// Errors are stated in units in the last place (ulp) of the exact result, the largest seen by tests/scalar/lanes_maths.cpp
/// with and without fused multiply-add; below the least normal number (2^-1022) an ulp is 2^-1074.
#pragma once

#if !defined(__GNUC__)
#error "hardchine/scalar/lanes.hpp needs the vector extension of g++ or clang: other compilers are not supported"
#endif
#if defined(__FAST_MATH__) || (defined(__FINITE_MATH_ONLY__) && __FINITE_MATH_ONLY__) || defined(__ASSOCIATIVE_MATH__)
#error \
    "hardchine/scalar/lanes.hpp needs IEEE arithmetic: -ffast-math and -ffinite-math-only delete its checks and rounding"
#endif
#if defined(__FLT_EVAL_METHOD__) && __FLT_EVAL_METHOD__ != 0
#error "hardchine/scalar/lanes.hpp needs double that is computed in double: on 32-bit x86, -msse2 -mfpmath=sse"
#endif

#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <limits>
#include <span>
#include <stdexcept>
#include <type_traits>
#include <utility>

#include "hardchine/fields.hpp"
#include "hardchine/scalar/scalar.hpp"

namespace hardchine {

/// The standard width: eight on every machine, one vector with AVX-512, two with AVX, four without.
inline constexpr int lanes_width = 8;

// Objects built for different instruction sets must not share code: the linker keeps one copy of each inline function,
// and the wrong one does not run. So the set is a part of every name here. (The rest of
// the library is shared as any inline function is: one set of flags for all objects of a program.)
#if defined(__AVX512F__) && defined(__AVX512DQ__) && defined(__AVX512VL__)
inline namespace lanes_avx512 {
#elif defined(__AVX512F__)
inline namespace lanes_avx512f {
#elif defined(__AVX2__)
inline namespace lanes_avx2 {
#elif defined(__AVX__)
inline namespace lanes_avx {
#elif defined(__SSE4_1__)
inline namespace lanes_sse4_1 {
#elif defined(__SSE3__)
inline namespace lanes_sse3 {
#elif defined(__SSE2__)
inline namespace lanes_sse2 {
#else
inline namespace lanes_any {
#endif
#if defined(__FMA__) || defined(__ARM_FEATURE_FMA)
inline namespace with_fma {
#else
inline namespace without_fma {
#endif

/// One vector of the machine, and the kernels on it.
namespace lanes_detail {

#if defined(__AVX512F__)
inline constexpr int native_width = 8;
#elif defined(__AVX__)
inline constexpr int native_width = 4;
#else
inline constexpr int native_width = 2;
#endif

inline constexpr double infinite = std::numeric_limits<double>::infinity();
inline constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
inline constexpr double least_normal = std::numeric_limits<double>::min();
inline constexpr double greatest_angle = 1e6;

/// Added and taken away it rounds to a whole number, which then stands in the lowest bits of the sum.
inline constexpr double whole = 0x1.8p52;
inline constexpr std::uint64_t sign_bit = std::uint64_t{1} << 63;
inline constexpr std::uint64_t mantissa_bits = (std::uint64_t{1} << 52) - 1;
inline constexpr std::uint64_t bits_of_one = std::bit_cast<std::uint64_t>(1.0);
inline constexpr std::uint64_t bits_of_root_half = std::bit_cast<std::uint64_t>(0x1.6a09e667f3bcdp-1);
/// Keeps 26 of the 53 bits of a number: the product of two such is exact.
inline constexpr std::uint64_t upper_half = ~((std::uint64_t{1} << 27) - 1);

/// ln 2 in two parts, the first of 32 bits, so that its product with an exponent is exact.
inline constexpr double ln2[] = {0x1.62e42ff000000p-1, -0x1.718432a1b0e26p-35};
/// pi/2 in four parts, three of 33 bits, so that their products with whole numbers up to 2^20 are exact.
inline constexpr double half_pi[] = {0x1.921fb54400000p+0, 0x1.0b4611a600000p-34, 0x1.3198a2e000000p-69,
                                     0x1.b839a252049c1p-104};
/// log10 e in two parts, the first of 26 bits.
inline constexpr double log10_e[] = {0x1.bcb7b18000000p-2, -0x1.6c8d78e6acaa4p-29};

// The polynomials, lowest power first, as tests/references/lane_kernels.csv has them.

/// exp r = 1 + r + r^2 q(r), |r| up to ln 2/2.
inline constexpr double exp_terms[] = {0.5000000000000011,     0.16666666666666413,    0.041666666666530267,
                                       0.008333333333494428,   0.0013888888943597631,  0.0001984126950657618,
                                       2.4801493135845745e-05, 2.7557586442556107e-06, 2.763023415924331e-07,
                                       2.500001882313551e-08};
/// log((1 + s)/(1 - s)) = 2 s + s z L(z), z = s^2, s up to (sqrt 2 - 1)/(sqrt 2 + 1).
inline constexpr double log_terms[] = {0.6666666666666734,  0.3999999999941636,  0.28571428742017185,
                                       0.22222198610700825, 0.18183562406749146, 0.15314098832231235,
                                       0.14795475009991685};
/// sin r = r + r z S(z), z = r^2, r up to pi/4.
inline constexpr double sin_terms[] = {-0.1666666666666663,    0.008333333333322118,   -0.00019841269829589468,
                                       2.7557313621343964e-06, -2.505074775470294e-08, 1.5896229621865627e-10};
/// cos r = 1 - z/2 + z^2 C(z), z = r^2, r up to pi/4.
inline constexpr double cos_terms[] = {0.041666666666666595,   -0.0013888888888873056, 2.480158728885155e-05,
                                       -2.755731417924636e-07, 2.087570083449414e-09,  -1.1358536110561877e-11};
/// atan t = t + t z A(z), z = t^2, t up to tan(pi/8).
inline constexpr double atan_terms[] = {-0.33333333333333326, 0.1999999999999765,    -0.14285714285385953,
                                        0.11111111088069354,  -0.09090908141243183,  0.0769228269698574,
                                        -0.0666622601312463,  0.05877015976149919,   -0.05218375441551298,
                                        0.04503463224793805,  -0.033473119471189895, 0.01519441829549805};

// Spelled out: g++ takes a vector whose size depends on a template parameter for its element.
template <int W>
struct Vectors;
template <>
struct Vectors<2> {
  using Value [[gnu::vector_size(16)]] = double;
  using Bits = decltype(Value{} < Value{});
  using Unsigned [[gnu::vector_size(16)]] = unsigned long long;
};
template <>
struct Vectors<4> {
  using Value [[gnu::vector_size(32)]] = double;
  using Bits = decltype(Value{} < Value{});
  using Unsigned [[gnu::vector_size(32)]] = unsigned long long;
};
template <>
struct Vectors<8> {
  using Value [[gnu::vector_size(64)]] = double;
  using Bits = decltype(Value{} < Value{});
  using Unsigned [[gnu::vector_size(64)]] = unsigned long long;
};

template <int W>
struct Native {
  using Value = typename Vectors<W>::Value;
  using Bits = typename Vectors<W>::Bits;  // what a comparison gives: -1 where it holds, else 0
  using Unsigned = typename Vectors<W>::Unsigned;

  [[gnu::always_inline]] static Value same(double x) { return x - Value{}; }  // minus keeps the sign of a zero
  [[gnu::always_inline]] static Unsigned bits(const Value& x) { return reinterpret_cast<Unsigned>(x); }
  [[gnu::always_inline]] static Value number(const Unsigned& x) { return reinterpret_cast<Value>(x); }

  [[gnu::always_inline]] static Value choose(const Bits& mask, const Value& a, const Value& b) {
#if defined(__SSE4_1__)
    return mask < 0 ? a : b;  // one instruction
#else
    const auto m = reinterpret_cast<Unsigned>(mask);
    return number((m & bits(a)) | (~m & bits(b)));
#endif
  }
  [[gnu::always_inline]] static Value magnitude(const Value& x) { return number(bits(x) & ~sign_bit); }
  [[gnu::always_inline]] static Value with_sign_of(const Value& x, const Value& magnitude) {
    return number(bits(magnitude) | (bits(x) & sign_bit));
  }
  /// From `low` to `high`; not-a-number passes.
  [[gnu::always_inline]] static Value clamped(const Value& x, double low, double high) {
    // One instruction each: where a comparison is undecided they give their second operand.
#if defined(__AVX__)
    if constexpr (W == 4) return __builtin_ia32_minpd256(same(high), __builtin_ia32_maxpd256(same(low), x));
#endif
#if defined(__SSE2__)
    if constexpr (W == 2) return __builtin_ia32_minpd(same(high), __builtin_ia32_maxpd(same(low), x));
#endif
    const Value y = x < low ? same(low) : x;
    return y > high ? same(high) : y;
  }

  /// The signs of the lanes as the bits of a number.
  [[gnu::always_inline]] static int signs(const Bits& mask) {
#if defined(__AVX__)
    if constexpr (W == 8) {
      using Half = Native<4>;
      return Half::signs(__builtin_shufflevector(mask, mask, 0, 1, 2, 3)) |
             Half::signs(__builtin_shufflevector(mask, mask, 4, 5, 6, 7)) << 4;
    }
    if constexpr (W == 4) return __builtin_ia32_movmskpd256(reinterpret_cast<Value>(mask));
#endif
#if defined(__SSE2__)
    if constexpr (W == 2) return __builtin_ia32_movmskpd(reinterpret_cast<Value>(mask));
#endif
    int r = 0;
    for (int i = 0; i < W; ++i) r |= (mask[i] < 0 ? 1 : 0) << i;
    return r;
  }

  [[gnu::always_inline]] static Value sqrt(const Value& x) {
    // std::sqrt on each lane would ask after errno.
#if defined(__AVX__)
    if constexpr (W == 8) {
      using Half = Native<4>;
      return __builtin_shufflevector(Half::sqrt(__builtin_shufflevector(x, x, 0, 1, 2, 3)),
                                     Half::sqrt(__builtin_shufflevector(x, x, 4, 5, 6, 7)), 0, 1, 2, 3, 4, 5, 6, 7);
    }
    if constexpr (W == 4) return __builtin_ia32_sqrtpd256(x);
#endif
#if defined(__SSE2__)
    if constexpr (W == 2) return __builtin_ia32_sqrtpd(x);
#endif
    Value r{};
    for (int i = 0; i < W; ++i) r[i] = std::sqrt(x[i]);
    return r;
  }

  /// 2^n for whole n from -1022 to 1023.
  [[gnu::always_inline]] static Value power_of_two(const Value& n) {
    return number((bits(n + whole) << 52) + bits_of_one);
  }
  /// The bits of a normal number, moved so that the exponent steps at sqrt(1/2).
  [[gnu::always_inline]] static Unsigned stepped_at_root_half(const Value& x) {
    return bits(x) + (bits_of_one - bits_of_root_half);
  }
  /// k + 2^52 + 1023 of x = 2^k (1 + f), f from sqrt(1/2) - 1 to sqrt 2 - 1.
  [[gnu::always_inline]] static Value biased_exponent(const Value& x) {
    return number((stepped_at_root_half(x) >> 52) | std::bit_cast<std::uint64_t>(0x1p52));
  }
  /// 1 + f.
  [[gnu::always_inline]] static Value mantissa(const Value& x) {
    return number((stepped_at_root_half(x) & mantissa_bits) + bits_of_root_half);
  }
  /// The first 26 bits.
  [[gnu::always_inline]] static Value upper(const Value& x) { return number(bits(x) & upper_half); }
  /// `a` where the whole number n is odd, else `b`; n is given as n + whole.
  [[gnu::always_inline]] static Value where_odd(const Value& n, const Value& a, const Value& b) {
    return choose(reinterpret_cast<Bits>(0 - (bits(n) & 1)), a, b);
  }
  /// -x where bit number `bit` of n + `more` is set; n is given as n + whole.
  [[gnu::always_inline]] static Value negated_where(const Value& n, unsigned more, int bit, const Value& x) {
    return number(bits(x) ^ (((bits(n) + more) << (63 - bit)) & sign_bit));
  }
};

/// The vectors of a pack. Copied one by one on purpose: g++ 12 copies a plain struct of them through memory in pieces of
/// half their size, and then waits for the stores.
template <class Part, std::size_t n>
struct Parts {
  Part v[n] = {};

  Parts() = default;
  [[gnu::always_inline]] Parts(const Parts& x) : Parts(x, std::make_index_sequence<n>{}) {}
  // NOLINTNEXTLINE(bugprone-unhandled-self-assignment): each vector to itself
  [[gnu::always_inline]] Parts& operator=(const Parts& x) {
    assign(x, std::make_index_sequence<n>{});
    return *this;
  }
  ~Parts() = default;
  /// From a function of their numbers.
  template <class F>
  [[gnu::always_inline]] static Parts each(const F& f) {
    return Parts(f, std::make_index_sequence<n>{});
  }
  [[gnu::always_inline]] const Part& operator[](std::size_t i) const { return v[i]; }
  [[gnu::always_inline]] const Part& operator()(std::size_t i) const { return v[i]; }  // as such a function

 private:
  template <class F, std::size_t... I>
  [[gnu::always_inline]] Parts(const F& f, std::index_sequence<I...>) : v{f(I)...} {}  // a loop is unrolled at -O3 only
  template <std::size_t... I>
  [[gnu::always_inline]] void assign(const Parts& x, std::index_sequence<I...>) {
    ((v[I] = x.v[I]), ...);
  }
};

/// The functions on packs, step by step over all vectors of a pack: while one waits for its last result the others go
/// on. (Function by function over single vectors took up to 1.7 times as long.)
template <class L>
struct Kernels;

}  // namespace lanes_detail

/// One truth value a lane: what a comparison of two packs gives. False in every lane unless one was made.
template <int N>
struct LaneMask {
  /// Lanes in one vector of the machine.
  static constexpr int width = N < lanes_detail::native_width ? N : lanes_detail::native_width;
  /// How many vectors.
  static constexpr std::size_t parts = static_cast<std::size_t>(N / width);
  using Native = lanes_detail::Native<width>;  ///< such a vector
  using Part = typename Native::Bits;          ///< its truth values, -1 or 0

  lanes_detail::Parts<Part, parts> part = {};  ///< lane i is element i % width of part i / width

  /// @name Masks
  /// @{

  /// Lane by lane; `any` and `all` over the lanes of one mask.
  [[gnu::always_inline]] friend LaneMask both(const LaneMask& a, const LaneMask& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] & b.part[i]; });
  }
  [[gnu::always_inline]] friend LaneMask either(const LaneMask& a, const LaneMask& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] | b.part[i]; });
  }
  [[gnu::always_inline]] friend LaneMask negate(const LaneMask& a) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return ~a.part[i]; });
  }
  [[gnu::always_inline]] friend bool any(const LaneMask& a) {
    Part p = a.part[0];
    for (std::size_t i = 1; i < parts; ++i) p |= a.part[i];
    return Native::signs(p) != 0;
  }
  [[gnu::always_inline]] friend bool all(const LaneMask& a) {
    Part p = a.part[0];
    for (std::size_t i = 1; i < parts; ++i) p &= a.part[i];
    return Native::signs(p) == (1 << width) - 1;
  }
  /// @}

  /// The truth values as a list.
  /// @return true or false, lane 0 first
  std::array<bool, static_cast<std::size_t>(N)> truth() const {
    std::array<long long, static_cast<std::size_t>(N)> bits;
    std::memcpy(bits.data(), part.v, sizeof part.v);
    std::array<bool, static_cast<std::size_t>(N)> holds;
    for (std::size_t i = 0; i < holds.size(); ++i) holds[i] = bits[i] != 0;
    return holds;
  }

  /// A mask from its vectors.
  /// @param f callable with 0 to parts - 1
  /// @return the mask
  template <class F>
  [[gnu::always_inline]] static LaneMask each(const F& f) {
    return {lanes_detail::Parts<Part, parts>::each(f)};
  }
};

/// N numbers at once: a scalar for every formula of the library.
template <int N = lanes_width>
struct Lanes {
  static_assert(N >= 2 && (N & (N - 1)) == 0, "Lanes<N>: N is 2, 4, 8, 16 ...; the standard width is lanes_width, 8");

  using Mask = LaneMask<N>;  ///< what a comparison gives
  /// Lanes in one vector of the machine.
  static constexpr int width = Mask::width;
  /// How many vectors.
  static constexpr std::size_t parts = Mask::parts;
  using Native = lanes_detail::Native<width>;  ///< such a vector
  using Part = typename Native::Value;         ///< its numbers

  lanes_detail::Parts<Part, parts> part = {};  ///< lane i is element i % width of part i / width

  /// Zero in every lane.
  Lanes() = default;
  /// The same number in every lane.
  /// @param x any
  [[gnu::always_inline]] explicit Lanes(double x)
      : part(lanes_detail::Parts<Part, parts>::each([&](std::size_t)
                                                        __attribute__((always_inline)) { return Native::same(x); })) {}
  /// N numbers, one a lane; an array of doubles is one such column, and `column.subspan(i).template first<N>()`.
  /// @param column any numbers
  /// @return the pack
  [[gnu::always_inline]] static Lanes load(std::span<const double, static_cast<std::size_t>(N)> column) {
    // Vector by vector: g++ 12 takes a copy of the whole through the stack in smaller pieces.
    return each([&](std::size_t i) __attribute__((always_inline)) {
      Part p;
      std::memcpy(&p, column.data() + i * static_cast<std::size_t>(width), sizeof p);
      return p;
    });
  }
  /// The way back.
  /// @param column where the N numbers go
  [[gnu::always_inline]] void store(std::span<double, static_cast<std::size_t>(N)> column) const {
    std::memcpy(column.data(), part.v, sizeof part.v);
  }

  /// @name Arithmetic and comparisons
  /// @{

  /// Lane by lane as on numbers; a double stands for itself in every lane.
  [[gnu::always_inline]] Lanes operator-() const {
    return each([&](std::size_t i) __attribute__((always_inline)) { return -part[i]; });
  }
  [[gnu::always_inline]] friend Lanes operator+(const Lanes& a, const Lanes& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] + b.part[i]; });
  }
  [[gnu::always_inline]] friend Lanes operator+(const Lanes& a, double b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] + b; });
  }
  [[gnu::always_inline]] friend Lanes operator+(double a, const Lanes& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a + b.part[i]; });
  }
  [[gnu::always_inline]] friend Lanes operator-(const Lanes& a, const Lanes& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] - b.part[i]; });
  }
  [[gnu::always_inline]] friend Lanes operator-(const Lanes& a, double b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] - b; });
  }
  [[gnu::always_inline]] friend Lanes operator-(double a, const Lanes& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a - b.part[i]; });
  }
  [[gnu::always_inline]] friend Lanes operator*(const Lanes& a, const Lanes& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] * b.part[i]; });
  }
  [[gnu::always_inline]] friend Lanes operator*(const Lanes& a, double b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] * b; });
  }
  [[gnu::always_inline]] friend Lanes operator*(double a, const Lanes& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a * b.part[i]; });
  }
  [[gnu::always_inline]] friend Lanes operator/(const Lanes& a, const Lanes& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] / b.part[i]; });
  }
  [[gnu::always_inline]] friend Lanes operator/(const Lanes& a, double b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] / b; });
  }
  [[gnu::always_inline]] friend Lanes operator/(double a, const Lanes& b) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return a / b.part[i]; });
  }
  [[gnu::always_inline]] Lanes& operator+=(const Lanes& b) { return *this = *this + b; }
  [[gnu::always_inline]] Lanes& operator-=(const Lanes& b) { return *this = *this - b; }
  [[gnu::always_inline]] Lanes& operator*=(const Lanes& b) { return *this = *this * b; }
  [[gnu::always_inline]] Lanes& operator/=(const Lanes& b) { return *this = *this / b; }
  [[gnu::always_inline]] Lanes& operator+=(double b) { return *this = *this + b; }
  [[gnu::always_inline]] Lanes& operator-=(double b) { return *this = *this - b; }
  [[gnu::always_inline]] Lanes& operator*=(double b) { return *this = *this * b; }
  [[gnu::always_inline]] Lanes& operator/=(double b) { return *this = *this / b; }

  [[gnu::always_inline]] friend Mask operator<(const Lanes& a, const Lanes& b) {
    return Mask::each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] < b.part[i]; });
  }
  [[gnu::always_inline]] friend Mask operator>(const Lanes& a, const Lanes& b) {
    return Mask::each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] > b.part[i]; });
  }
  [[gnu::always_inline]] friend Mask operator<=(const Lanes& a, const Lanes& b) {
    return Mask::each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] <= b.part[i]; });
  }
  [[gnu::always_inline]] friend Mask operator>=(const Lanes& a, const Lanes& b) {
    return Mask::each([&](std::size_t i) __attribute__((always_inline)) { return a.part[i] >= b.part[i]; });
  }
  /// @}

  /// `a` where the mask holds, else `b`, lane by lane.
  /// @param mask of a comparison
  /// @param a any
  /// @param b any
  /// @return one of the two in each lane
  [[gnu::always_inline]] friend Lanes select(const Mask& mask, const Lanes& a, const Lanes& b) {
    return each([&](std::size_t i)
                    __attribute__((always_inline)) { return Native::choose(mask.part[i], a.part[i], b.part[i]); });
  }
  /// True where a lane is neither infinite nor not-a-number.
  /// @param x any
  /// @return a mask
  [[gnu::always_inline]] friend Mask is_finite(const Lanes& x) {
    return Mask::each([&](std::size_t i) __attribute__((always_inline)) {
      return Native::magnitude(x.part[i]) <= std::numeric_limits<double>::max();
    });
  }
  /// The pack itself: it carries no derivatives.
  /// @param x any
  /// @return x
  [[gnu::always_inline]] friend Lanes plain(const Lanes& x) { return x; }

  /// Square root, rounded correctly; not a number below zero.
  /// @param x any
  /// @return its root; of -0 that
  [[gnu::always_inline]] friend Lanes sqrt(const Lanes& x) {
    return each([&](std::size_t i) __attribute__((always_inline)) { return Native::sqrt(x.part[i]); });
  }
  /// Exponential function. Error up to 1.1 ulp.
  /// @param x any
  /// @return e^x; infinite from 709.79 up, 0 from -745.14 down
  [[gnu::always_inline]] friend Lanes exp(const Lanes& x) { return lanes_detail::Kernels<Lanes>::exp(x); }
  /// Natural logarithm. Error up to 0.9 ulp.
  /// @param x any
  /// @return ln x; minus infinity at zero of either sign, not a number below
  [[gnu::always_inline]] friend Lanes log(const Lanes& x) { return lanes_detail::Kernels<Lanes>::log(x); }
  /// Decimal logarithm. Error up to 1.1 ulp.
  /// @param x any
  /// @return log10 x; minus infinity at zero of either sign, not a number below
  [[gnu::always_inline]] friend Lanes log10(const Lanes& x) { return lanes_detail::Kernels<Lanes>::log10(x); }
  /// Power. Error up to 1.1 + 0.27 |power| ulp.
  /// @param x any; below zero only for a whole power, else the result is not a number
  /// @param power any, the same in every lane
  /// @return x^power, at zero, infinity and not-a-number as std::pow
  [[gnu::always_inline]] friend Lanes pow(const Lanes& x, double power) {
    return lanes_detail::Kernels<Lanes>::pow(x, power);
  }
  /// Sine. Error up to 1.4 ulp for angles up to a right one, 2.4 ulp to 1e6.
  /// @param x angle in radians, from -1e6 to 1e6
  /// @return sin x; beyond those angles not a number
  [[gnu::always_inline]] friend Lanes sin(const Lanes& x) { return lanes_detail::Kernels<Lanes>::sin(x); }
  /// Cosine. Error up to 1.5 ulp for angles up to a right one, 2.4 ulp to 1e6.
  /// @param x angle in radians, from -1e6 to 1e6
  /// @return cos x; beyond those angles not a number
  [[gnu::always_inline]] friend Lanes cos(const Lanes& x) { return lanes_detail::Kernels<Lanes>::cos(x); }
  /// Tangent. Error up to 3 ulp for angles up to a right one, 4 ulp to 1e6.
  /// @param x angle in radians, from -1e6 to 1e6
  /// @return tan x; beyond those angles not a number
  [[gnu::always_inline]] friend Lanes tan(const Lanes& x) { return lanes_detail::Kernels<Lanes>::tan(x); }
  /// Inverse tangent. Error up to 1.9 ulp.
  /// @param x any
  /// @return angle in radians, -pi/2 to pi/2
  [[gnu::always_inline]] friend Lanes atan(const Lanes& x) { return lanes_detail::Kernels<Lanes>::atan(x); }
  /// Hyperbolic tangent. Error up to 2.7 ulp.
  /// @param x any
  /// @return tanh x, -1 to 1
  [[gnu::always_inline]] friend Lanes tanh(const Lanes& x) { return lanes_detail::Kernels<Lanes>::tanh(x); }
  /// Sine and cosine of a small angle at once: the digits that sin and cos give.
  /// @param x angle in radians, from -pi/4 to pi/4
  /// @return both; beyond those angles not a number
  [[gnu::always_inline]] friend SinCos<Lanes> sin_cos(const Lanes& x) {
    using Kernels = lanes_detail::Kernels<Lanes>;
    const Mask small = Kernels::magnitude(x) <= Lanes(0.7853982);  // a little above pi/4: 45 degrees pass
    return Kernels::sin_cos(select(small, x, Lanes(lanes_detail::not_a_number)));
  }

  /// A pack from its vectors.
  /// @param f callable with 0 to parts - 1
  /// @return the pack
  template <class F>
  [[gnu::always_inline]] static Lanes each(const F& f) {
    Lanes r;
    r.part = lanes_detail::Parts<Part, parts>::each(f);
    return r;
  }
};

namespace lanes_detail {

template <class L>
struct Kernels {
  using Native = typename L::Native;

  [[gnu::always_inline]] static double at(double x, std::size_t) { return x; }
  [[gnu::always_inline]] static const typename L::Part& at(const L& x, std::size_t i) { return x.part[i]; }

  /// a b + c and c - a b in one expression, so that both compilers fuse them where the machine can.
  template <class A, class B, class C>
  [[gnu::always_inline]] static L product_plus(const A& a, const B& b, const C& c) {
    return L::each([&](std::size_t i) __attribute__((always_inline)) { return at(a, i) * at(b, i) + at(c, i); });
  }
  template <class A, class B, class C>
  [[gnu::always_inline]] static L less_product(const C& c, const A& a, const B& b) {
    return L::each([&](std::size_t i) __attribute__((always_inline)) { return at(c, i) - at(a, i) * at(b, i); });
  }
  [[gnu::always_inline]] static L clamped(const L& x, double low, double high) {
    return L::each([&](std::size_t i) __attribute__((always_inline)) { return Native::clamped(x.part[i], low, high); });
  }
  [[gnu::always_inline]] static L magnitude(const L& x) {
    return L::each([&](std::size_t i) __attribute__((always_inline)) { return Native::magnitude(x.part[i]); });
  }
  [[gnu::always_inline]] static L with_sign_of(const L& x, const L& magnitude) {
    return L::each([&](std::size_t i)
                       __attribute__((always_inline)) { return Native::with_sign_of(x.part[i], magnitude.part[i]); });
  }
  [[gnu::always_inline]] static L upper(const L& x) {
    return L::each([&](std::size_t i) __attribute__((always_inline)) { return Native::upper(x.part[i]); });
  }
  [[gnu::always_inline]] static L power_of_two(const L& n) {
    return L::each([&](std::size_t i) __attribute__((always_inline)) { return Native::power_of_two(n.part[i]); });
  }
  [[gnu::always_inline]] static L where_odd(const L& n, const L& a, const L& b) {
    return L::each([&](std::size_t i)
                       __attribute__((always_inline)) { return Native::where_odd(n.part[i], a.part[i], b.part[i]); });
  }
  [[gnu::always_inline]] static L negated_where(const L& n, unsigned more, int bit, const L& x) {
    return L::each([&](std::size_t i) __attribute__((always_inline)) {
      return Native::negated_where(n.part[i], more, bit, x.part[i]);
    });
  }
  /// `a` where x is `edge`, else `b`.
  [[gnu::always_inline]] static L where_equal(const L& x, double edge, const L& a, const L& b) {
    return L::each([&](std::size_t i)
                       __attribute__((always_inline)) { return x.part[i] == edge ? a.part[i] : b.part[i]; });
  }

  /// exp r - 1, r up to ln 2/2.
  [[gnu::always_inline]] static L exp_less_one(const L& r) {
    const auto& c = exp_terms;
    const L z = r * r, z2 = z * z;
    const L c01 = product_plus(r, c[1], c[0]), c23 = product_plus(r, c[3], c[2]);
    const L c45 = product_plus(r, c[5], c[4]), c67 = product_plus(r, c[7], c[6]);
    const L c89 = product_plus(r, c[9], c[8]);
    const L low = product_plus(z, c23, c01);
    const L high = product_plus(z2, c89, product_plus(z, c67, c45));
    return product_plus(z, product_plus(z2, high, low), r);
  }
  /// x/ln 2 to the nearest whole number, as that + whole.
  [[gnu::always_inline]] static L powers_of_two_in(const L& x) { return product_plus(x, 1.4426950408889634, whole); }
  /// m 2^n for whole n from -2044 to 2046: in two steps, the last one of which rounds, overflows and underflows.
  [[gnu::always_inline]] static L scaled(const L& m, const L& n) {
    const L half = product_plus(n, 0.5, whole) - whole;
    return m * power_of_two(half) * power_of_two(n - half);
  }
  /// No further than where exp is 0 and infinite.
  [[gnu::always_inline]] static L clamped_to_exp(const L& x) { return clamped(x, -746.0, 710.0); }

  [[gnu::always_inline]] static L exp(const L& x) {
    const L y = clamped_to_exp(x);
    const L n = powers_of_two_in(y) - whole;
    const L r = less_product(less_product(y, n, ln2[0]), n, ln2[1]);
    return scaled(exp_less_one(r) + 1.0, n);
  }

  /// x = 2^k m, m from sqrt(1/2) to sqrt 2, of a positive finite number.
  struct Split {
    L k, m;
  };
  [[gnu::always_inline]] static Split split(const L& x) {
    const auto subnormal = x < L(least_normal);
    const L y = select(subnormal, x * 0x1p54, x);
    const L bias = select(subnormal, L(0x1p52 + 1023.0 + 54.0), L(0x1p52 + 1023.0));
    const L k =
        L::each([&](std::size_t i) __attribute__((always_inline)) { return Native::biased_exponent(y.part[i]); });
    return {k - bias,
            L::each([&](std::size_t i) __attribute__((always_inline)) { return Native::mantissa(y.part[i]); })};
  }
  /// f - log m, f = m - 1, good to an ulp of f^2/2: with s = f/(m + 1) log m is 2 s + s z L(z), z = s^2, which is
  /// f - s (f - z L), and s f is f^2/2 - s f^2/2.
  [[gnu::always_inline]] static L less_log(const L& f, const L& m) {
    const auto& c = log_terms;
    const L s = f / (m + 1.0), z = s * s, w = z * z, w2 = w * w;
    const L c01 = product_plus(z, c[1], c[0]), c23 = product_plus(z, c[3], c[2]), c45 = product_plus(z, c[5], c[4]);
    const L terms = product_plus(w2, product_plus(w, c[6], c45), product_plus(w, c23, c01));
    const L half_square = 0.5 * f * f;
    return less_product(half_square, s, product_plus(z, terms, half_square));
  }
  /// The result of a logarithm, or what it is at the edges: not a number below zero.
  [[gnu::always_inline]] static L log_or_edge(const L& x, const L& result) {
    const L edge = where_equal(x, 0.0, L(-infinite), L(not_a_number));
    return where_equal(x, infinite, x, select(x > L(0.0), result, edge));
  }

  [[gnu::always_inline]] static L log(const L& x) {
    const Split p = split(x);
    const L f = p.m - 1.0;
    const L rest = less_product(less_log(f, p.m), p.k, ln2[1]);
    return log_or_edge(x, product_plus(p.k, ln2[0], f - rest));
  }

  /// The logarithm of a positive finite number as a sum: 26 bits, and what is left of it.
  struct Sum {
    L high, low;
  };
  [[gnu::always_inline]] static Sum log_sum(const L& x) {
    const Split p = split(x);
    const L f = p.m - 1.0;
    const L a = p.k * ln2[0];  // exact, and either zero or greater than f
    const L sum = a + f;
    const L high = upper(sum);
    const L known = (sum - high) + product_plus(p.k, ln2[1], f - (sum - a));
    return {high, known - less_log(f, p.m)};
  }

  [[gnu::always_inline]] static L log10(const L& x) {
    const Sum l = log_sum(x);
    const L low = product_plus(l.low, log10_e[0] + log10_e[1], l.high * log10_e[1]);
    return log_or_edge(x, product_plus(l.high, log10_e[0], low));
  }

  [[gnu::always_inline]] static L pow(const L& x, double power) {
    if (power == 0.0) return L(1.0);
    const bool is_whole = std::trunc(power) == power;
    const bool is_odd = is_whole && std::abs(power) < 0x1p53 && std::fmod(power, 2.0) != 0.0;
    // Beyond this every power is what it is here, and the product below stays finite.
    const double p = power < -1e25 ? -1e25 : power > 1e25 ? 1e25 : power;
    const double p_high = std::bit_cast<double>(std::bit_cast<std::uint64_t>(p) & upper_half);
    const L size_of_x = magnitude(x), positive = is_whole ? size_of_x : x;
    const Sum l = log_sum(positive);
    // p log x = a + b, a exact; then as exp, b being carried along.
    const L a = l.high * p_high;
    const L b = product_plus(l.low, p, l.high * (p - p_high));
    const L n = powers_of_two_in(a + b) - whole;
    // Where the result is 0 or infinite n is far off, and any remainder does.
    const L r = clamped(less_product(a, n, ln2[0]) + less_product(b, n, ln2[1]), -0.35, 0.35);
    const L size = scaled(exp_less_one(r) + 1.0, clamped(n, -1100.0, 1100.0));
    const L at_zero(power > 0.0 ? 0.0 : infinite), at_infinity(power > 0.0 ? infinite : 0.0);
    const L edge = where_equal(positive, 0.0, at_zero, L(not_a_number));
    const L result = select(positive > L(0.0), size, edge);
    const L y = where_equal(size_of_x, infinite, at_infinity, result);
    if (power != power) return where_equal(x, 1.0, L(1.0), L(power));
    return is_odd ? with_sign_of(x, y) : y;
  }

  /// The quadrant of an angle as a whole number + whole, the sine and cosine of what is left of it.
  struct Quadrant {
    L number, sin, cos;
  };
  [[gnu::always_inline]] static Quadrant quadrant(const L& x) {
    const L number = product_plus(x, 0.6366197723675814, whole);
    const L n = number - whole;
    const L near = less_product(less_product(x, n, half_pi[0]), n, half_pi[1]);
    const L n_or_none = select(magnitude(x) <= L(greatest_angle), n, L(not_a_number));
    const L angle = less_product(less_product(near, n, half_pi[2]), n_or_none, half_pi[3]);
    const SinCos<L> of = sin_cos(angle);
    return {number, of.sin, of.cos};
  }

  /// Of angles up to pi/4.
  [[gnu::always_inline]] static SinCos<L> sin_cos(const L& angle) {
    const auto &s = sin_terms, &c = cos_terms;
    const L z = angle * angle, w = z * z;
    const L s01 = product_plus(z, s[1], s[0]), s23 = product_plus(z, s[3], s[2]), s45 = product_plus(z, s[5], s[4]);
    const L c01 = product_plus(z, c[1], c[0]), c23 = product_plus(z, c[3], c[2]), c45 = product_plus(z, c[5], c[4]);
    const L sin_rest = product_plus(w, product_plus(w, s45, s23), s01);
    const L cos_rest = product_plus(w, product_plus(w, c45, c23), c01);
    return {product_plus(angle * z, sin_rest, angle), 1.0 - less_product(0.5 * z, w, cos_rest)};
  }

  [[gnu::always_inline]] static L sin(const L& x) {
    const Quadrant q = quadrant(x);
    const L y = negated_where(q.number, 0, 1, where_odd(q.number, q.cos, q.sin));
    return where_equal(x, 0.0, x, y);  // with its sign
  }
  [[gnu::always_inline]] static L cos(const L& x) {
    const Quadrant q = quadrant(x);
    return negated_where(q.number, 1, 1, where_odd(q.number, q.sin, q.cos));
  }
  [[gnu::always_inline]] static L tan(const L& x) {
    const Quadrant q = quadrant(x);
    const L y = where_odd(q.number, q.cos, q.sin) / where_odd(q.number, q.sin, q.cos);
    return where_equal(x, 0.0, x, negated_where(q.number, 0, 0, y));
  }

  [[gnu::always_inline]] static L atan(const L& x) {
    // atan a = pi/4 + atan((a - 1)/(a + 1)) = pi/2 + atan(-1/a): one division for all three.
    const L a = magnitude(x);
    const auto middle = a > L(0.41421356237309503), steep = a > L(2.414213562373095);
    const L above = select(steep, L(-1.0), select(middle, a - 1.0, a));
    const L below = select(steep, a, select(middle, a + 1.0, L(1.0)));
    const L base = select(steep, L(1.5707963267948966), select(middle, L(0.7853981633974483), L(0.0)));
    const L t = above / below, z = t * t, w = z * z, w2 = w * w;
    const auto& c = atan_terms;
    const L c01 = product_plus(z, c[1], c[0]), c23 = product_plus(z, c[3], c[2]), c45 = product_plus(z, c[5], c[4]);
    const L c67 = product_plus(z, c[7], c[6]), c89 = product_plus(z, c[9], c[8]), cab = product_plus(z, c[11], c[10]);
    const L low = product_plus(w, c23, c01);
    const L high = product_plus(w2, product_plus(w, cab, c89), product_plus(w, c67, c45));
    // pi/2 and pi/4 go on behind double.
    const L rest = product_plus(t * z, product_plus(w2, high, low), base * 3.8981718325193755e-17);
    return with_sign_of(x, base + (t + rest));
  }

  [[gnu::always_inline]] static L tanh(const L& x) {
    // tanh a = e/(e + 2), e = exp(2 a) - 1; 1 from a = 22 on.
    const L y = clamped(2.0 * magnitude(x), 0.0, 44.0);
    const L n = powers_of_two_in(y) - whole;
    const L r = less_product(less_product(y, n, ln2[0]), n, ln2[1]);
    const L scale = power_of_two(n);
    const L e = product_plus(scale, exp_less_one(r), scale - 1.0);
    return with_sign_of(x, e / (e + 2.0));
  }
};

}  // namespace lanes_detail

/// @name One lane of a pack
/// @{

/// What a pack, a mask, a quantity or a list of outcomes or flags holds in lane `index`.
/// @param x any
/// @param index 0 to N - 1
/// @return a number, a truth value, a quantity over double, an outcome or flags
/// @throws std::out_of_range for another index
template <int N>
double lane(const Lanes<N>& x, int index) {
  std::array<double, static_cast<std::size_t>(N)> numbers;
  x.store(numbers);
  return numbers.at(static_cast<std::size_t>(index));
}
template <int N>
bool lane(const LaneMask<N>& x, int index) {
  return x.truth().at(static_cast<std::size_t>(index));
}
template <class U, int N>
Quantity<U, double> lane(const Quantity<U, Lanes<N>>& x, int index) {
  return Quantity<U, double>::from_value(lane(x.value(), index));
}
template <class X, std::size_t N>
const X& lane(const std::array<X, N>& x, int index) {
  return x.at(static_cast<std::size_t>(index));
}
/// @}

/// The aggregate of lane `index` of an aggregate with a field table: its fields, parts, counts and choices, and where it
/// has them its `flags`, `outcome`, `refused_field` and `method`.
/// @param aggregate over Lanes<N>
/// @param index 0 to N - 1
/// @return the same aggregate over double
/// @throws std::out_of_range for another index
template <template <class> class A, int N>
requires HasFields<A<Lanes<N>>> A<double> lane(const A<Lanes<N>>& aggregate, int index) {
  A<double> result{};
  const auto source = A<Lanes<N>>::fields();
  const auto target = A<double>::fields();
  const auto one = [&](const auto& to, const auto& from) {
    auto& field = result.*(to.member);
    const auto& value = aggregate.*(from.member);
    if constexpr (std::is_same_v<std::remove_cvref_t<decltype(field)>, std::remove_cvref_t<decltype(value)>>)
      field = value;  // a count or choice
    else
      field = lane(value, index);
  };
  [&]<std::size_t... I>(std::index_sequence<I...>) { (one(entry_of<I>(target), entry_of<I>(source)), ...); }
  (std::make_index_sequence<decltype(target)::size>{});
  if constexpr (requires { result.flags; }) result.flags = lane(aggregate.flags, index);
  if constexpr (requires { result.outcome; }) result.outcome = lane(aggregate.outcome, index);
  if constexpr (requires { result.refused_field; }) result.refused_field = lane(aggregate.refused_field, index);
  if constexpr (requires { result.method; }) result.method = aggregate.method;
  return result;
}

/// Gives the lanes where the mask does not hold the numbers of the first lane where it does.
/// @param aggregate an input with a field table, over lanes or with derivatives over lanes
/// @param holds true in one lane at least
template <class S, int N>
void fill_from_first(S& aggregate, const LaneMask<N>& holds) {
  const auto truth = holds.truth();
  int first = 0;
  while (first + 1 < N && !truth[static_cast<std::size_t>(first)]) ++first;
  for_each_field(aggregate, [&](const auto&, auto& value) {
    using Value = std::remove_cvref_t<decltype(value)>;
    using T = std::remove_cvref_t<decltype(bare_value(value))>;
    const T good(lane(plain(bare_value(value)), first));
    if constexpr (is_quantity<Value>)
      value = Value::from_value(select(holds, value.value(), good));
    else
      value = select(holds, value, good);
  });
}

/// @name Where a mask holds
/// @{

/// Sets `target` to `value` where the mask holds.
/// @param target a pack, a quantity over packs, or what a result keeps one a lane
/// @param mask of a comparison
/// @param value any
template <int N, class X>
[[gnu::always_inline]] inline void assign_where(X& target, const LaneMask<N>& mask,
                                                const std::type_identity_t<X>& value) {
  target = select(mask, value, target);
}
template <int N, class X, std::size_t M>
requires(M == static_cast<std::size_t>(N)) void assign_where(std::array<X, M>& target, const LaneMask<N>& mask,
                                                             const std::type_identity_t<X>& value) {
  const auto holds = mask.truth();
  for (std::size_t i = 0; i < M; ++i)
    if (holds[i]) target[i] = value;
}

/// Adds the bits of `value` to `target` where the mask holds.
/// @param target flags, one a lane
/// @param mask of a comparison
/// @param value bits, the same for every lane or one a lane
template <int N, std::size_t M>
requires(M == static_cast<std::size_t>(N)) void raise_where(std::array<std::uint32_t, M>& target,
                                                            const LaneMask<N>& mask,
                                                            const std::array<std::uint32_t, M>& value) {
  const auto holds = mask.truth();
  for (std::size_t i = 0; i < M; ++i) target[i] |= holds[i] ? value[i] : 0U;
}
template <int N, std::size_t M>
requires(M == static_cast<std::size_t>(N)) void raise_where(std::array<std::uint32_t, M>& target,
                                                            const LaneMask<N>& mask, std::uint32_t value) {
  std::array<std::uint32_t, M> values;
  values.fill(value);
  raise_where(target, mask, values);
}
/// @}
}  // namespace with_fma
}  // namespace lanes_avx2

/// Flags over packs while they are raised: in the vectors of the masks.
template <int N>
struct RaisedFlags<LaneMask<N>> {
  LaneMask<N> bits;  ///< the flags of each lane as a whole number

  /// Raises `value` where the mask holds.
  /// @param holds of a comparison
  /// @param value bits
  [[gnu::always_inline]] void raise(const LaneMask<N>& holds, std::uint32_t value) {
    const long long number = value;
    bits = LaneMask<N>::each([&](std::size_t i)
                                 __attribute__((always_inline)) { return bits.part[i] | (holds.part[i] & number); });
  }
  /// As a result keeps them.
  /// @param holds of a comparison
  /// @return the bits where the mask holds, else none
  [[gnu::always_inline]] std::array<std::uint32_t, static_cast<std::size_t>(N)> kept_where(
      const LaneMask<N>& holds) const {
    const LaneMask<N> kept = both(bits, holds);
    std::array<long long, static_cast<std::size_t>(N)> numbers;
    std::memcpy(numbers.data(), kept.part.v, sizeof kept.part.v);
    std::array<std::uint32_t, static_cast<std::size_t>(N)> r;
    for (std::size_t i = 0; i < r.size(); ++i) r[i] = static_cast<std::uint32_t>(numbers[i]);
    return r;
  }
};

/// Outcomes and flags over packs: one a lane.
template <int N, class X>
struct PerLaneType<Lanes<N>, X> {
  using type = std::array<X, static_cast<std::size_t>(N)>;  ///< how they are kept
  /// The same `x` for every lane.
  /// @param x any
  /// @return as they are kept
  static constexpr type fill(const X& x) {
    type all{};
    all.fill(x);
    return all;
  }
};

}  // namespace hardchine
