#include "scene/json_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

namespace dapple::scene {

namespace {

// Bytes that are no UTF-8 are replaced, so that messages can always be passed on.
std::string dumped(const Json& value) {
    return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string as_utf8(const std::string& bytes) {
    return Json::parse(dumped(Json(bytes))).get<std::string>();
}

std::string shortened(std::string text) {
    constexpr std::size_t most = 60;
    if (text.size() <= most) return text;
    std::size_t end = most;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U)
        --end;  // not inside a character
    return text.substr(0, end) + "...";
}

std::string line_and_column(std::string_view text, std::size_t position) {
    const std::string_view before = text.substr(0, std::min(position > 0 ? position - 1 : 0, text.size()));
    const auto line = std::count(before.begin(), before.end(), '\n') + 1;
    const std::size_t start = before.rfind('\n');
    const std::size_t column = before.size() - (start == std::string_view::npos ? 0 : start + 1) + 1;
    return fmt::format("line {}, column {}", line, column);
}

// Builds the value while the parser walks through the text, and watches what the parser lets pass.
class Builder : public nlohmann::json_sax<Json> {
  public:
    Builder(std::string_view text, std::string file) : text_(text), file_(std::move(file)) {}

    bool null() override { return put(nullptr) != nullptr; }
    bool boolean(bool value) override { return put(value) != nullptr; }
    bool number_integer(number_integer_t value) override { return put(value) != nullptr; }
    bool number_unsigned(number_unsigned_t value) override { return put(value) != nullptr; }
    bool number_float(number_float_t value, const string_t& /*text*/) override {
        return put(value) != nullptr;
    }
    bool string(string_t& value) override { return put(std::move(value)) != nullptr; }
    bool binary(binary_t& /*value*/) override { return false; }  // never in JSON text

    bool start_object(std::size_t /*size*/) override { return enter(Json::object()); }
    bool start_array(std::size_t /*size*/) override { return enter(Json::array()); }
    bool end_object() override { return leave(); }
    bool end_array() override { return leave(); }

    bool key(string_t& name) override {
        Json& object = *open_.back();
        if (object.size() >= most_fields) {
            return stop(
                {file_, place(), "an object of too many fields", fmt::format("at most {}", most_fields)});
        }
        keys_.back() = name;
        if (object.contains(name)) {
            problems_.push_back(
                {file_, place(), "the field " + quoted(std::string_view(name)) + " twice", "once"});
        }
        return true;
    }

    bool parse_error(std::size_t position, const std::string& /*token*/,
                     const nlohmann::json::exception& error) override {
        std::string why = error.what();
        const std::size_t bracket = why.find("] ");  // behind the library's own error number
        if (bracket != std::string::npos) why = why.substr(bracket + 2);
        const std::size_t colon = why.find(": ");  // behind its own line and column
        if (colon != std::string::npos && why.starts_with("parse error")) why = why.substr(colon + 2);
        return stop({file_, line_and_column(text_, position), "text that is no JSON: " + as_utf8(why),
                     "JSON (RFC 8259)"});
    }

    Expected<Json> result() && {
        if (!problems_.empty()) return tl::unexpected<Problems>(std::move(problems_));
        return std::move(root_);
    }

  private:
    template <class Value>
    Json* put(Value&& value) {
        if (open_.empty()) {
            root_ = Json(std::forward<Value>(value));
            return &root_;
        }
        Json& parent = *open_.back();
        if (parent.is_array()) {
            parent.push_back(Json(std::forward<Value>(value)));
            return &parent.back();
        }
        Json& field = parent[keys_.back()];
        field = Json(std::forward<Value>(value));
        return &field;
    }

    bool enter(Json container) {
        if (open_.size() >= deepest_nesting) {
            return stop({file_, place(), "values nested too deeply",
                         fmt::format("at most {} levels", deepest_nesting)});
        }
        open_.push_back(put(std::move(container)));
        keys_.emplace_back();
        return true;
    }

    bool leave() {
        open_.pop_back();
        keys_.pop_back();
        return true;
    }

    std::string place() const {
        std::string pointer;
        for (std::size_t i = 0; i < open_.size(); ++i) {
            const Json& container = *open_[i];
            const bool last = i + 1 == open_.size();
            if (container.is_object()) {
                pointer = below(pointer, keys_[i]);
            } else if (!last) {
                pointer = below(pointer, container.size() - 1);
            }
        }
        return pointer;
    }

    bool stop(Problem problem) {
        problems_.push_back(std::move(problem));
        return false;
    }

    std::string_view text_;
    std::string file_;
    Json root_;
    std::vector<Json*> open_;        // the containers around the present value
    std::vector<std::string> keys_;  // the field last begun in each of them
    Problems problems_;
};

}  // namespace

Expected<Json> parse_json(std::string_view text, const std::string& file) {
    Builder builder(text, file);
    Json::sax_parse(text, &builder);
    return std::move(builder).result();
}

std::string quoted(const Json& value) {
    return shortened(dumped(value));
}

std::string quoted(std::string_view text) {
    return quoted(Json(std::string(text)));
}

std::string below(const std::string& place, std::string_view field) {
    std::string pointer = place + "/";
    for (const char c : field) {
        if (c == '~') {
            pointer += "~0";
        } else if (c == '/') {
            pointer += "~1";
        } else {
            pointer += c;
        }
    }
    return pointer;
}

std::string below(const std::string& place, std::size_t index) {
    return place + "/" + std::to_string(index);
}

}  // namespace dapple::scene
