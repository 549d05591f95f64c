#pragma once

#include "Records/EnumNames.h"
#include "Records/Fields.h"
#include "Valves/Pitch.h"

#include <nlohmann/json.hpp>

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace valveladder {

/// Version of documents: drills, instruments, tempo rules and takes.
inline constexpr int documentVersion = 1;

/// Members keep the order in which they are written.
using JsonNode = nlohmann::ordered_json;

/// What a text may hold at most; more is no file of ours.
struct JsonLimits {
    static constexpr std::size_t maxBytes = 64U << 20U; ///< a take of DrillLimits::maxNotes needs about 20 MB
    static constexpr int maxDepth = 16;
    static constexpr int maxMembers = 256; ///< of one object
};

/// Parses text of ours; throws a Problem that says at which byte it is no JSON.
[[nodiscard]] JsonNode parseJson(std::string_view text);

/// Text of a node; bytes that are not UTF-8 become U+FFFD. `indent` -1 = one line.
[[nodiscard]] std::string jsonText(const JsonNode& node, int indent = -1);

/// Where a value stands in a document: "segments[2].rhythm". Kept as a chain, spelt only for a Problem.
struct JsonPlace {
    const JsonPlace* parent = nullptr;
    const char* name = nullptr; ///< member, or nullptr for an element
    std::size_t index = 0;

    [[nodiscard]] std::string path() const;
};

/// Throws a Problem "segments[2].rhythm: what".
[[noreturn]] void refuseJson(const JsonPlace& place, const std::string& what);

/// Writes a field list as members of an object, or what a type's own jsonNode(value) makes of it. Absent
/// optionals are left out; a figure that is not finite is left out or, where it cannot be absent, 0.
class JsonWriter {
public:
    template <typename T>
    void operator()(const char* name, const T& value) {
        if constexpr (requires { value.has_value(); }) {
            if (JsonNode present = node(value); !present.is_null())
                object[name] = std::move(present);
        } else {
            object[name] = node(value);
        }
    }

    template <typename T>
    [[nodiscard]] static JsonNode node(const T& value) {
        if constexpr (std::is_same_v<T, double>)
            return std::isfinite(value) ? value : 0.0;
        else if constexpr (std::is_enum_v<T>)
            return std::string(enumName(value));
        else if constexpr (std::is_same_v<T, Combination>)
            return value.name();
        else if constexpr (std::is_arithmetic_v<T> || std::is_same_v<T, std::string>)
            return value;
        else if constexpr (requires { jsonNode(value); })
            return jsonNode(value);
        else {
            JsonWriter members;
            fields(members, value);
            return std::move(members.object);
        }
    }
    template <typename T>
    [[nodiscard]] static JsonNode node(const std::optional<T>& value) {
        return value && meant(*value) ? node(*value) : JsonNode();
    }
    template <typename T>
    [[nodiscard]] static JsonNode node(const std::vector<T>& list) {
        return array(list);
    }
    template <typename T, std::size_t size>
    [[nodiscard]] static JsonNode node(const std::array<T, size>& list) {
        return array(list);
    }

    JsonNode object = JsonNode::object();

private:
    template <typename T>
    [[nodiscard]] static bool meant(const T& value) {
        if constexpr (std::is_same_v<T, double>)
            return std::isfinite(value);
        else
            return true;
    }
    template <typename List>
    [[nodiscard]] static JsonNode array(const List& list) {
        JsonNode elements = JsonNode::array();
        for (const auto& element : list)
            elements.push_back(node(element));
        return elements;
    }
};

// One value of each plain kind; all throw a Problem for another kind.
void readJson(const JsonNode& node, const JsonPlace& place, bool& value);
void readJson(const JsonNode& node, const JsonPlace& place, int& value);
void readJson(const JsonNode& node, const JsonPlace& place, std::int64_t& value);
void readJson(const JsonNode& node, const JsonPlace& place, double& value);
void readJson(const JsonNode& node, const JsonPlace& place, std::string& value);
void readJson(const JsonNode& node, const JsonPlace& place, Combination& value);
[[nodiscard]] std::string jsonName(const JsonNode& node, const JsonPlace& place);

template <typename E>
requires std::is_enum_v<E>
void readJson(const JsonNode& node, const JsonPlace& place, E& value) {
    const std::string text = jsonName(node, place);
    const auto parsed = parseEnum<E>(text);
    if (!parsed)
        refuseJson(place, "\"" + text + "\" is not known here");
    value = *parsed;
}

template <typename T>
void readJson(const JsonNode& node, const JsonPlace& place, std::optional<T>& value) {
    value.reset();
    if (!node.is_null())
        readJson(node, place, value.emplace());
}

template <typename T>
void readJson(const JsonNode& node, const JsonPlace& place, std::vector<T>& list) {
    if (!node.is_array())
        refuseJson(place, "a list is expected");
    list.clear();
    list.reserve(node.size());
    for (const JsonNode& element : node) {
        const JsonPlace here{&place, nullptr, list.size()};
        readJson(element, here, list.emplace_back(T{}));
    }
}

template <typename T, std::size_t size>
void readJson(const JsonNode& node, const JsonPlace& place, std::array<T, size>& list) {
    if (!node.is_array() || node.size() != size)
        refuseJson(place, "a list of " + std::to_string(size) + " is expected");
    for (std::size_t i = 0; i < size; ++i)
        readJson(node[i], JsonPlace{&place, nullptr, i}, list[i]);
}

/// Reads a field list from the members of an object. Absent members leave their field as it is.
class JsonReader {
public:
    JsonReader(const JsonNode& node, const JsonPlace& where) : object(node), place(where) {
        if (!object.is_object())
            refuseJson(place, "an object is expected");
    }

    template <typename T>
    void operator()(const char* name, T& value) {
        known.insert(name);
        if (const auto member = object.find(name); member != object.end())
            readJson(*member, JsonPlace{&place, name, 0}, value);
    }

    /// A member that is not ours is a slip of the pen, or of a program that knows more than we do.
    void refuseUnknown() const;

private:
    const JsonNode& object;
    const JsonPlace& place;
    std::set<std::string_view> known;
};

/// A struct with a field list.
template <typename T>
requires std::is_class_v<T>
void readJson(const JsonNode& node, const JsonPlace& place, T& value) {
    JsonReader reader(node, place);
    fields(reader, value);
    reader.refuseUnknown();
}

/// A document: an object that says its format and version first.
template <typename T>
[[nodiscard]] JsonNode documentOf(const T& value, const char* format, int version) {
    JsonWriter writer;
    writer("format", std::string(format));
    writer("version", version);
    fields(writer, value);
    return std::move(writer.object);
}

/// Throws a Problem when the object is of another format or a newer version.
void checkDocument(JsonReader& reader, const char* format, int version);

/// Reads a document of ours from text.
template <typename T>
[[nodiscard]] Result<T> readDocument(std::string_view text, const char* format, int version) {
    try {
        const JsonNode node = parseJson(text);
        const JsonPlace root;
        JsonReader reader(node, root);
        checkDocument(reader, format, version);
        T value{};
        fields(reader, value);
        reader.refuseUnknown();
        return value;
    } catch (const Problem& problem) {
        return problem;
    } catch (const std::exception& thrown) { // such as memory that runs out
        return Problem{std::string("the text cannot be read: ") + thrown.what(), format, "Try again"};
    }
}

} // namespace valveladder
