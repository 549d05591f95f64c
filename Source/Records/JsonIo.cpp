#include "Records/JsonIo.h"

namespace valveladder {

namespace {

constexpr const char* fromElsewhere = "Use a whole file written by Valve Ladder";

/// Text of ours that was cut short or changed on its way looks the same as a stranger's.
Problem notOurs(const std::string& fault, std::string where) {
    return {"the text is damaged, or not one of Valve Ladder's: " + fault, std::move(where), fromElsewhere};
}

/// Counts what a hostile text might hold without end, before it is stored.
class Guard {
public:
    bool operator()(int depth, JsonNode::parse_event_t event, JsonNode&) {
        if (depth > JsonLimits::maxDepth)
            throw notOurs("it nests too deep", "depth " + std::to_string(depth));
        const auto level = static_cast<std::size_t>(depth);
        if (event == JsonNode::parse_event_t::object_start)
            members[level + 1] = 0;
        if (event == JsonNode::parse_event_t::key && ++members[level] > JsonLimits::maxMembers)
            throw notOurs("an object in it has too many members", "depth " + std::to_string(depth));
        return true;
    }

private:
    std::array<int, static_cast<std::size_t>(JsonLimits::maxDepth) + 2> members{};
};

template <typename T>
T wholeNumber(const JsonNode& node, const JsonPlace& place) {
    constexpr const char* outside = "the number is too large";
    if (node.is_number_unsigned()) {
        const auto number = node.get<std::uint64_t>();
        if (number > static_cast<std::uint64_t>(std::numeric_limits<T>::max()))
            refuseJson(place, outside);
        return static_cast<T>(number);
    }
    if (node.is_number_integer()) {
        const auto number = node.get<std::int64_t>();
        if (number < std::numeric_limits<T>::min() || number > std::numeric_limits<T>::max())
            refuseJson(place, outside);
        return static_cast<T>(number);
    }
    // Other programs may write 4 as 4.0. Up to 2^53 a double holds every whole number.
    constexpr double exact = 9007199254740992.0;
    const double limit = std::min(exact, static_cast<double>(std::numeric_limits<T>::max()));
    const double number = node.is_number_float() ? node.get<double>() : 0.5;
    if (std::trunc(number) != number)
        refuseJson(place, "a whole number is expected");
    if (std::abs(number) > limit)
        refuseJson(place, outside);
    return static_cast<T>(number);
}

/// The number that the parser's message names between its first and last quotation mark, cut where it is
/// long.
std::string quotedIn(std::string_view message) {
    constexpr std::size_t longest = 24;
    const auto first = message.find('\'');
    const auto last = message.rfind('\'');
    if (first == std::string_view::npos || last <= first)
        return "the whole text";
    const std::string_view number = message.substr(first + 1, last - first - 1);
    return std::string(number.substr(0, longest)) + (number.size() > longest ? "..." : "");
}

} // namespace

JsonNode parseJson(std::string_view text) {
    if (text.size() > JsonLimits::maxBytes)
        throw notOurs("it is too large", std::to_string(text.size()) + " bytes");
    // The parser takes a NUL for the end of the text and would pass over what follows.
    if (const auto nul = text.find('\0'); nul != std::string_view::npos)
        throw notOurs("it is not JSON", "byte " + std::to_string(nul + 1));
    try {
        return JsonNode::parse(text.begin(), text.end(), Guard{});
    } catch (const nlohmann::json::parse_error& thrown) {
        throw notOurs("it is not JSON", "byte " + std::to_string(thrown.byte));
    } catch (const nlohmann::json::exception& thrown) { // a number beyond the range of double
        throw Problem{"the text holds a number that is too large", quotedIn(thrown.what()), fromElsewhere};
    }
}

std::string jsonText(const JsonNode& node, int indent) {
    return node.dump(indent, ' ', false, JsonNode::error_handler_t::replace);
}

std::string JsonPlace::path() const {
    if (parent == nullptr)
        return {};
    const std::string before = parent->path();
    if (name == nullptr)
        return before + "[" + std::to_string(index) + "]";
    return before.empty() ? name : before + "." + name;
}

void refuseJson(const JsonPlace& place, const std::string& what) {
    const std::string path = place.path();
    if (path.empty())
        throw notOurs(what, "the whole text");
    throw Problem{what, path, "Correct it there"};
}

void readJson(const JsonNode& node, const JsonPlace& place, bool& value) {
    if (!node.is_boolean())
        refuseJson(place, "true or false is expected");
    value = node.get<bool>();
}

void readJson(const JsonNode& node, const JsonPlace& place, int& value) {
    value = wholeNumber<int>(node, place);
}

void readJson(const JsonNode& node, const JsonPlace& place, std::int64_t& value) {
    value = wholeNumber<std::int64_t>(node, place);
}

void readJson(const JsonNode& node, const JsonPlace& place, double& value) {
    if (!node.is_number())
        refuseJson(place, "a number is expected");
    value = node.get<double>();
}

void readJson(const JsonNode& node, const JsonPlace& place, std::string& value) {
    if (!node.is_string())
        refuseJson(place, "text is expected");
    value = node.get<std::string>();
}

std::string jsonName(const JsonNode& node, const JsonPlace& place) {
    if (!node.is_string())
        refuseJson(place, "a name is expected");
    return node.get<std::string>();
}

void readJson(const JsonNode& node, const JsonPlace& place, Combination& value) {
    const auto parsed = Combination::parse(jsonName(node, place));
    if (!parsed)
        refuseJson(place, "a set of valves such as \"0\" or \"1-3\" is expected");
    value = *parsed;
}

void JsonReader::refuseUnknown() const {
    for (const auto& member : object.items())
        if (!known.contains(std::string_view(member.key()))) {
            const std::string path = place.path();
            throw Problem{"there is no such member",
                          (path.empty() ? "" : path + ".") + jsonText(JsonNode(member.key())),
                          "Correct its name or take it out"};
        }
}

void checkDocument(JsonReader& reader, const char* format, int version) {
    std::string foundFormat;
    int foundVersion = 1;
    reader("format", foundFormat);
    if (foundFormat != format)
        throw Problem{foundFormat.empty() ? std::string("the text does not say that it is Valve Ladder's")
                                          : "the text is of another kind: " + jsonText(JsonNode(foundFormat)),
                      "format", std::string("Use one that says \"") + format + "\" there"};
    reader("version", foundVersion);
    if (foundVersion > version)
        throw Problem{"the text was written by a newer version of Valve Ladder (its version is " +
                          std::to_string(foundVersion) + ", this one knows " + std::to_string(version) + ")",
                      "version", "Update this one"};
    if (foundVersion < 1)
        throw Problem{"there never was a version " + std::to_string(foundVersion), "version",
                      "Correct it there"};
}

} // namespace valveladder
