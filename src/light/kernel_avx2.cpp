#if defined(__x86_64__)
#include "light/kernel_impl.h"
#include "light/kernel_targets.h"

namespace dapple::light {

void kernel_avx2(const KernelScene& scene, const KernelLamp& lamp, const KernelPoints& points,
                 const KernelResult& result, std::size_t begin, std::size_t end) {
    Kernel<xsimd::fma3<xsimd::avx2>>::run(scene, lamp, points, result, begin, end);
}

}  // namespace dapple::light
#endif
