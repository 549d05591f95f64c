#include "Records/Json.h"
#include "Records/JsonIo.h"

namespace valveladder {

template <typename Io, MaybeConst<Performance> T>
void fields(Io& io, T& performance) {
    io("source", performance.source);
    io("asynchronyMs", performance.asynchronyMs);
    performanceFields(io, performance);
    io("segments", performance.segments);
    io("notes", performance.notes);
    io("extras", performance.extras);
    io("changes", performance.changes);
}

template <typename Io, MaybeConst<TakeRecord> T>
void fields(Io& io, T& take) {
    sharedFields(io, take);
    recordFields(io, take);
    io("performance", take.performance);
    io("corrections", take.corrections);
}

namespace {

constexpr const char* takeFormat = "valve-ladder-take";
constexpr const char* headerFormat = "valve-ladder-open-take";

template <typename T>
Result<T> withId(Result<T> read, const std::string& id) {
    if (read.ok() && id.empty())
        return Problem{"a take must have an id", "id", "Correct it there"};
    return read;
}

} // namespace

std::string toJson(const TakeRecord& record) {
    return jsonText(documentOf(record, takeFormat, documentVersion));
}

Result<TakeRecord> takeFromJson(std::string_view text) {
    auto read = readDocument<TakeRecord>(text, takeFormat, documentVersion);
    const std::string id = read.ok() ? read.value().header.id : "";
    return withId(std::move(read), id);
}

std::string toJson(const TakeHeader& header) {
    return jsonText(documentOf(header, headerFormat, documentVersion));
}

Result<TakeHeader> takeHeaderFromJson(std::string_view text) {
    auto read = readDocument<TakeHeader>(text, headerFormat, documentVersion);
    const std::string id = read.ok() ? read.value().id : "";
    return withId(std::move(read), id);
}

} // namespace valveladder
