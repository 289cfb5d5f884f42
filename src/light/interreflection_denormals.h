// While this lives, its thread rounds denormal numbers to zero: fading light must not slow the arithmetic
// down a hundredfold.
#pragma once

#if defined(__SSE2__)
#include <xmmintrin.h>
#endif

namespace dapple::light {

class FlushDenormals {
  public:
#if defined(__SSE2__)
    FlushDenormals() : before_(_mm_getcsr()) {
        _mm_setcsr(before_ | flush_to_zero | denormals_are_zero);
    }
    ~FlushDenormals() {
        _mm_setcsr(before_);
    }
#else
    FlushDenormals() = default;
    ~FlushDenormals() = default;
#endif
    FlushDenormals(const FlushDenormals&) = delete;
    FlushDenormals& operator=(const FlushDenormals&) = delete;

#if defined(__SSE2__)
  private:
    static constexpr unsigned flush_to_zero = 0x8000;
    static constexpr unsigned denormals_are_zero = 0x0040;
    unsigned before_;
#endif
};

}  // namespace dapple::light
