#include "View/PartReader.h"

#include "Review/LoggedChanges.h"
#include "View/Words.h"

#include <utility>

namespace valveladder {

namespace {

OwnChanges changesOf(const PartRequest& request, const std::filesystem::path& log, OpenedPart& opened) {
    std::error_code error;
    if (!std::filesystem::exists(log, error))
        return {};
    const auto store = LogStore::openReadOnly(log);
    auto own = store ? loggedChanges(*store.value(), request.player, request.instrument.id)
                     : Result<OwnChanges>(store.problem());
    if (own)
        return std::move(own.value());
    opened.remarks.push_back(words::ownChangesUnknown + own.problem().text());
    return {};
}

int firstWithNotes(const PartFile& file) {
    for (std::size_t i = 0; i < file.parts().size(); ++i)
        if (notesIn(file.parts()[i]) > 0)
            return static_cast<int>(i);
    return 0;
}

} // namespace

OpenedPart openPart(const PartRequest& request, const std::filesystem::path& log) {
    OpenedPart opened;
    opened.request = request;
    Result<PartFile> file = PartFile::open(request.file);
    if (!file) {
        opened.problem = file.problem();
        return opened;
    }
    opened.file = std::move(file.value());
    PartChoice choice = request.choice;
    if (choice.part < 0)
        choice.part = firstWithNotes(*opened.file);
    opened.part = choice.part;
    Result<PartFile::Line> line = opened.file->read(choice, request.instrument, false);
    if (!line) {
        opened.problem = line.problem();
        return opened;
    }
    opened.line = std::move(line.value().part);
    opened.remarks = std::move(line.value().remarks);
    OwnMarking own = markByOwn(opened.line, request.instrument, changesOf(request, log, opened));
    opened.marking = std::move(own.marking);
    opened.spots = std::move(own.spots);
    opened.costBasis = own.basis;
    opened.remarks.insert(opened.remarks.end(), opened.marking.remarks.begin(), opened.marking.remarks.end());
    return opened;
}

PartReader::PartReader(std::filesystem::path logPath)
    : log(std::move(logPath)), thread([this](const std::stop_token& end) { run(end); }) {}

PartReader::~PartReader() {
    thread.request_stop();
    changed.notify_all();
}

void PartReader::want(const PartRequest& request) {
    {
        const std::lock_guard lock(mutex);
        wanted = request;
        working.store(true);
    }
    changed.notify_all();
}

std::shared_ptr<const OpenedPart> PartReader::opened() const {
    const std::lock_guard lock(mutex);
    return newest;
}

void PartReader::run(const std::stop_token& end) {
    while (!end.stop_requested()) {
        std::unique_lock lock(mutex);
        changed.wait(lock, end, [this] { return wanted.has_value(); });
        if (!wanted)
            return;
        const PartRequest request = *std::exchange(wanted, std::nullopt);
        lock.unlock();
        auto opened = std::make_shared<const OpenedPart>(openPart(request, log));
        lock.lock();
        newest = std::move(opened);
        working.store(wanted.has_value());
    }
}

} // namespace valveladder
