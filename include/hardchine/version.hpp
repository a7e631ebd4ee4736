/// @file
/// The version of the library; CMake and pkg-config read it from here.
#pragma once

namespace hardchine {

inline constexpr int version_major = 0;  ///< first number
inline constexpr int version_minor = 1;  ///< second: before 1.0 a change may break
inline constexpr int version_patch = 0;  ///< third: mends only

}  // namespace hardchine
