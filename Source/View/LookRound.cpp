#include "View/LookRound.h"

#include "Base/Uuid.h"
#include "Invented/InventedWeek.h"

namespace valveladder {

namespace {

constexpr const char* logName = "week.sqlite";
constexpr const char* folderName = "valve-ladder-look-round-";

} // namespace

LookRound::LookRound()
    : place(std::filesystem::temp_directory_path() / (folderName + newUuid())),
      thread([this](const std::stop_token& end) { run(end); }) {}

LookRound::~LookRound() {
    thread.request_stop();
    thread.join();
    reader.reset(); // it may have the log open
    std::error_code ignored;
    std::filesystem::remove_all(place, ignored);
}

const char* LookRound::player() {
    return InventedWeek::player;
}

const Instrument& LookRound::instrument() {
    return *findInstrument(InventedWeek::instrumentId);
}

Result<Review> LookRound::made(const std::stop_token& end) const {
    std::error_code failed;
    std::filesystem::create_directories(place,
                                        failed); // where that fails, the log cannot be opened and says so
    auto log = LogStore::open(place / logName);
    if (!log)
        return log.problem();
    if (auto kept = InventedWeek::keepIn(*log.value()); !kept)
        return kept.problem();
    ReviewRequest request;
    request.player = InventedWeek::player;
    request.instrumentId = InventedWeek::instrumentId;
    request.invented = true;
    request.now = InventedWeek::nextMorning;
    return reviewOf(*log.value(), request, end);
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
