#include "View/LookRound.h"

#include "Base/Path.h"
#include "Base/Uuid.h"
#include "Invented/InventedWeek.h"

#include <vector>

namespace valveladder {

namespace {

constexpr const char* logName = "week.sqlite";
constexpr const char* folderName = "valve-ladder-look-round-";
constexpr const char* inUseName = "in-use"; // held by whoever looks round, and let go of however they end

/// The folder that holds those of look rounds; empty where the system has none.
std::filesystem::path parentFolder() {
    std::error_code error;
    auto parent = std::filesystem::temp_directory_path(error);
    return error ? std::filesystem::path() : parent;
}

/// For one look round. Without a parent empty, where nothing can be made.
std::filesystem::path newFolder() {
    const auto parent = parentFolder();
    return parent.empty() ? parent : parent / (folderName + newUuid());
}

/// Folders themselves, whoever made them, and not what a link leads to.
std::vector<std::filesystem::path> foldersOfLookRounds() {
    std::vector<std::filesystem::path> found;
    std::error_code error;
    const std::filesystem::path ours(
        folderName); // compared as the system writes names: others' may be no text
    std::filesystem::directory_iterator entry(parentFolder(), error);
    for (; !error && entry != std::filesystem::directory_iterator(); entry.increment(error)) {
        std::error_code unknown;
        if (entry->path().filename().native().starts_with(ours.native()) &&
            std::filesystem::is_directory(entry->symlink_status(unknown)))
            found.push_back(entry->path());
    }
    return found;
}

} // namespace

LookRound::LookRound() : place(newFolder()), thread([this](const std::stop_token& end) { run(end); }) {}

LookRound::~LookRound() {
    thread.request_stop();
    thread.join();
    reader.reset(); // it may have the log open
    std::error_code ignored;
    if (inUse)
        inUse->remove();
    std::filesystem::remove_all(place, ignored);
}

const char* LookRound::player() {
    return InventedWeek::player;
}

const Instrument& LookRound::instrument() {
    return *findInstrument(InventedWeek::instrumentId);
}

/// One that has no file to hold was made by an older version, or is being made: it stays.
void LookRound::clearLeftBehind() {
    for (const auto& folder : foldersOfLookRounds())
        if (auto held = LockedFile::takeOver(folder / inUseName)) {
            std::error_code ignored;
            held->remove();
            std::filesystem::remove_all(folder, ignored);
        }
}

Result<Review> LookRound::made(const std::stop_token& end) {
    std::error_code failed;
    std::filesystem::create_directories(place,
                                        failed); // where that fails, no file can be made in it and says so
    auto held = LockedFile::create(place / inUseName);
    if (!held)
        return held.problem();
    inUse = std::move(held.value());
    auto log = LogStore::open(place / logName);
    if (!log)
        return log.problem();
    if (auto kept = InventedWeek::keepIn(*log.value()); !kept)
        return kept.problem();
    return reviewOf(*log.value(), InventedWeek::reviewRequest(), end);
}

void LookRound::run(const std::stop_token& end) {
    auto week = std::make_shared<const Overview>(overviewOf(made(end), instrument()));
    const std::lock_guard lock(mutex);
    done = std::move(week);
}

std::shared_ptr<const Overview> LookRound::overview() const {
    const std::lock_guard lock(mutex);
    return done;
}

std::shared_ptr<const LoadedTake> LookRound::take(const std::string& id) {
    if (!overview())
        return nullptr;
    if (!reader)
        reader.emplace(place / logName);
    auto found = reader->take(id);
    if (!found)
        reader->wantTake(id);
    return found;
}

} // namespace valveladder
