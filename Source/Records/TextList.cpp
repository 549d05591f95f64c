#include "Records/TextList.h"

#include "Records/JsonIo.h"

namespace valveladder {

std::string listToText(const std::vector<std::string>& list) {
    return jsonText(JsonWriter::node(list));
}

std::optional<std::vector<std::string>> listFromText(const std::string& text) {
    try {
        std::vector<std::string> list;
        readJson(parseJson(text), JsonPlace{}, list);
        return list;
    } catch (const Problem&) {
        return std::nullopt;
    }
}

} // namespace valveladder
