/// @file
/// The version of the library; CMake and pkg-config read it from here.
#pragma once

namespace hardchine {

inline constexpr int version_major = 0;
inline constexpr int version_minor = 1;
inline constexpr int version_patch = 0;

}  // namespace hardchine
