#include "scene/enclosure.h"

namespace dapple::scene {

std::string_view name(Face face) {
    switch (face) {
        case Face::floor:
            return "floor";
        case Face::left:
            return "left";
        case Face::right:
            return "right";
        case Face::front:
            return "front";
        case Face::back:
            return "back";
        case Face::top:
            return "top";
    }
    return "";
}

}  // namespace dapple::scene
