#include "husbandry/judging.h"

namespace dapple::husbandry {

Light light_of(const light::Field& field) {
    return {[&field](std::span<const scene::Vec3> points, spectrum::Quantity quantity,
                     const light::Facing& facing) { return field.values(points, quantity, facing); },
            [&field](const scene::Vec3& point) {
                const light::Arrival arrival = field.at(point);
                Reading reading{};
                for (std::size_t i = 0; i < reading.size(); ++i) {
                    reading[i] = arrival.measure(spectrum::quantities[i]);
                }
                return reading;
            },
            [&field](std::span<const warmth::Spot> surfaces) {
                std::vector<double> celsius;
                celsius.reserve(surfaces.size());
                for (const auto& t : warmth::Warmth(field, surfaces).at_spots()) {
                    celsius.push_back(t.surface_c);
                }
                return celsius;
            }};
}

Expected<Judgement> judge(const scene::Enclosure& enclosure, const JudgeOptions& options) {
    Expected<std::vector<AnimalJudgement>> animals = resolve_animals(enclosure);
    if (!animals) return tl::unexpected(animals.error());
    const light::Field field(enclosure, options.field);
    return judge_in(light_of(field), enclosure, std::move(*animals), options);
}

}  // namespace dapple::husbandry
