// The fields of the documents last asked about. A view asks for one document again and again, at another
// height, in another quantity; what takes long is to build the field, so the latest few are kept. A document that differs
// from one of them in its lamps alone (a lamp is being dragged) is lit anew in the same room.
#pragma once

#include <atomic>
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
        std::string room;  // the document without its lamps
        int bounces;
        std::atomic<std::shared_ptr<const light::Field>>
            field;                 // read without the lock by those lit anew from it
        std::mutex one_at_a_time;  // a field uses all cores; two at once would only take turns
    };
    struct Found {
        std::shared_ptr<Entry> entry;
        std::shared_ptr<Entry> same_room;  // another one under other lamps, or none
    };
    Found find(const scene::Enclosure& enclosure, const light::FieldOptions& options);
    static const light::Field& built(const Found& found, const scene::Enclosure& enclosure,
                                     const light::FieldOptions& options);

    std::size_t most_;
    std::mutex guard_;
    std::list<std::shared_ptr<Entry>> entries_;  // latest first
};

}  // namespace dapple::server
