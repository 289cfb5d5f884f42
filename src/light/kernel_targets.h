// The kernel's compilations, one for each instruction set; kernel.cpp chooses.
#pragma once

#include <cstddef>

#include "light/kernel.h"

namespace dapple::light {

#define DAPPLE_KERNEL(name)                                                                    \
    void name(const KernelScene&, const KernelLamp&, const KernelPoints&, const KernelResult&, \
              std::size_t begin, std::size_t end)

DAPPLE_KERNEL(kernel_baseline);  // SSE2 on x86-64, NEON on arm64
#if defined(__x86_64__)
DAPPLE_KERNEL(kernel_avx2);    // AVX2 and FMA
DAPPLE_KERNEL(kernel_avx512);  // AVX-512 F, CD, DQ, BW
#endif

#undef DAPPLE_KERNEL

}  // namespace dapple::light
