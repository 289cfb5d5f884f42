// The fields of the documents last asked about. A view asks for one document again and again, at another
// height, in another quantity; what takes long is to build the field, so the latest few are kept.
#pragma once

#include <list>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "light/field.h"

namespace dapple::server {

class RecentFields {
  public:
    explicit RecentFields(std::size_t most = 4) : most_(most) {}

    std::vector<double> values(const scene::Enclosure& enclosure, const light::FieldOptions& options,
                               const std::vector<scene::Vec3>& points, spectrum::Quantity quantity,
                               const light::Facing& facing);
    std::vector<light::Arrival> arrivals(const scene::Enclosure& enclosure,
                                         const light::FieldOptions& options,
                                         const std::vector<scene::Vec3>& points, const light::Facing& facing);

  private:
    struct Entry {
        std::string document;
        int bounces;
        std::unique_ptr<light::Field> field;
        std::mutex one_at_a_time;  // a field uses all cores; two at once would only take turns
    };
    std::shared_ptr<Entry> entry(const scene::Enclosure& enclosure, const light::FieldOptions& options);

    std::size_t most_;
    std::mutex guard_;
    std::list<std::shared_ptr<Entry>> entries_;  // latest first
};

}  // namespace dapple::server
