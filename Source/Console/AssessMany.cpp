#include "Console/AssessMany.h"

#include "Base/Path.h"
#include "Base/RobustStatistics.h"
#include "Console/Progress.h"
#include "Console/Workers.h"
#include "Files/FileKinds.h"
#include "Records/Json.h"
#include "Words/TempoWords.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace valveladder::console {

namespace {

std::string fileName(const std::string& path) {
    return pathText(pathOf(path).filename());
}

/// Median of the changeovers measured; nothing when there are none.
std::optional<double> usualChangeover(const Performance& played) {
    std::vector<double> times;
    for (const ChangeResult& change : played.changes)
        if (change.changeoverMs)
            times.push_back(*change.changeoverMs);
    if (times.empty())
        return std::nullopt;
    return median(std::move(times));
}

Json asJson(const FileAssessed& file) {
    Json json{{"file", file.file}, {"kept", file.kept}};
    if (file.assessed)
        json["take"] = Json::parse(toJson(file.assessed->take));
    if (file.problem)
        json["problem"] = {
            {"what", file.problem->what}, {"where", file.problem->where}, {"remedy", file.problem->remedy}};
    return json;
}

void printLine(Tool& tool, const FileAssessed& file) {
    constexpr const char* row = "{:<20} {:>6} {:>8} {:>3} {:>3} {:>3} {:>7} {:>7}  {}\n";
    if (!file.assessed) {
        tool.print("{:<20} not heard\n", fileName(file.file));
        return;
    }
    const TakeRecord& take = file.assessed->take;
    const Performance& played = take.performance;
    const int right = played.count(Outcome::right);
    const auto spread = played.worstIoiSpreadPercent();
    const auto change = usualChangeover(played);
    tool.print(fmt::runtime(row), fileName(file.file), words::tempoText(take.playedBpm),
               fmt::format("{}/{}", right, played.notes.size()), played.count(Outcome::wrong),
               played.count(Outcome::missed), played.extras.size(),
               spread ? fmt::format("{:.1f}", *spread) : "-", change ? fmt::format("{:.0f}", *change) : "-",
               verdict(take));
}

} // namespace

Result<std::vector<std::string>> takeFiles(const std::string& folder) {
    std::vector<std::string> files;
    std::error_code error;
    for (std::filesystem::directory_iterator at(pathOf(folder), error), end; !error && at != end;
         at.increment(error))
        if (std::error_code each; at->is_regular_file(each))
            if (hasSmfName(at->path()) || hasSoundName(at->path()))
                files.push_back(pathText(at->path()));
    if (error)
        return Problem{"the folder cannot be read (" + error.message() + ")", folder,
                       "Check its name and rights"};
    if (files.empty())
        return Problem{"the folder holds no take", folder, "Put MIDI, WAV, AIFF or FLAC files into it"};
    std::ranges::sort(files);
    return files;
}

std::vector<FileAssessed> assessFiles(const Tool& tool, const std::vector<std::string>& files,
                                      const AssessOptions& options, int workers) {
    Progress progress(files.size(), tool.json);
    std::vector<std::optional<Result<Listened>>> heard(files.size());
    shareOut(files.size(), workers, [&](std::size_t i) {
        AssessOptions mine = options;
        mine.file = files[i];
        heard[i] = listenToFile(mine, [&](double share) { progress.share(files[i], share); });
        progress.finished(files[i]);
    });
    std::vector<FileAssessed> all;
    for (std::size_t i = 0; i < files.size(); ++i) {
        FileAssessed& file = all.emplace_back();
        file.file = files[i];
        AssessOptions mine = options;
        mine.file = files[i];
        if (!*heard[i]) {
            file.problem = heard[i]->problem();
            continue;
        }
        auto record = recordOf(mine, std::move(heard[i]->value()));
        if (record)
            file.assessed = std::move(record.value());
        else
            file.problem = record.problem();
    }
    return all;
}

void keepAll(const AssessOptions& options, std::vector<FileAssessed>& files) {
    for (FileAssessed& file : files) {
        if (!file.assessed)
            continue;
        AssessOptions mine = options;
        mine.file = file.file;
        const auto kept = keep(mine, *file.assessed);
        file.kept = kept.ok();
        if (!kept)
            file.problem = kept.problem();
    }
}

void printFiles(Tool& tool, const std::vector<FileAssessed>& files) {
    for (const FileAssessed& file : files)
        if (file.problem)
            tool.warn(file.problem->text());
    if (tool.json) {
        Json all = Json::array();
        for (const FileAssessed& file : files)
            all.push_back(asJson(file));
        tool.printJson(all);
        return;
    }
    tool.print("{:<20} {:>6} {:>8} {:>3} {:>3} {:>3} {:>7} {:>7}\n", "take", "bpm", "right", "w", "m", "x",
               "worst %", "chg, ms");
    for (const FileAssessed& file : files)
        printLine(tool, file);
    tool.print("w wrong, m missed, x extra; worst spread of intervals; chg median changeover\n");
}

} // namespace valveladder::console
