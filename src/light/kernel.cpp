#include "light/kernel.h"

#include "light/kernel_targets.h"

namespace dapple::light {

namespace {

struct Choice {
    KernelFunction function;
    const char* name;
};

Choice choose() {
#if defined(__x86_64__)
    __builtin_cpu_init();
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
        __builtin_cpu_supports("avx512bw") && __builtin_cpu_supports("avx512cd")) {
        return {kernel_avx512, "avx512"};
    }
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) return {kernel_avx2, "avx2"};
#endif
    return {kernel_baseline, "baseline"};
}

}  // namespace

KernelFunction best_kernel() {
    return choose().function;
}
const char* best_kernel_name() {
    return choose().name;
}

}  // namespace dapple::light
