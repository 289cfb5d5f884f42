#include "record/refusal.h"

#include <utility>

namespace dapple::record {

std::string_view name(Trouble trouble) {
    switch (trouble) {
        case Trouble::invalid:
            return "invalid";
        case Trouble::missing:
            return "missing";
        case Trouble::conflict:
            return "conflict";
        case Trouble::taken:
            return "taken";
        case Trouble::reused_key:
            return "reused_key";
        case Trouble::unavailable:
            return "unavailable";
        case Trouble::full:
            return "full";
        case Trouble::read_only:
            return "read_only";
        case Trouble::damaged:
            return "damaged";
        case Trouble::too_new:
            return "too_new";
    }
    return "invalid";
}

tl::unexpected<Refusal> refuse_as(Trouble trouble, Problem problem) {
    return refuse_as(trouble, Problems{std::move(problem)});
}

tl::unexpected<Refusal> refuse_as(Trouble trouble, Problems problems) {
    Refusal refusal;
    refusal.trouble = trouble;
    refusal.problems = std::move(problems);
    return tl::unexpected<Refusal>(std::move(refusal));
}

}  // namespace dapple::record
