#include "Files/NoteAnnotations.h"

#include "Base/FileBytes.h"
#include "Base/Number.h"
#include "Base/Path.h"
#include "Base/Units.h"
#include "Files/FileKinds.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <optional>

namespace valveladder {

namespace {

constexpr std::size_t maxAnnotationBytes = std::size_t{16} << 20;
constexpr double maxMidi = 127.0;
constexpr double minHz = 8.0;
constexpr const char* remedy = "Give a line 'onset,offset,pitch' for each note, seconds and MIDI number";

std::string lower(std::string_view text) {
    std::string result(text);
    for (char& c : result)
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
    return result;
}

std::string_view stripped(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\"";
    const std::size_t first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos)
        return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::vector<std::string_view> cellsOf(std::string_view line, char separator) {
    std::vector<std::string_view> cells;
    for (;;) {
        const std::size_t at = line.find(separator);
        cells.push_back(stripped(line.substr(0, at)));
        if (at == std::string_view::npos)
            return cells;
        line.remove_prefix(at + 1);
    }
}

std::optional<double> finiteIn(std::string_view cell) {
    const auto value = decimalIn(cell);
    return value && std::isfinite(*value) ? value : std::nullopt;
}

/// Which column holds what; -1 = none does.
struct Columns {
    int onset = 0;
    int offset = 1;
    int duration = -1;
    int pitch = 2;
    bool hertz = false;
};

int columnNamed(const std::vector<std::string_view>& head, std::initializer_list<std::string_view> names) {
    for (const std::string_view name : names)
        for (std::size_t i = 0; i < head.size(); ++i)
            if (lower(head[i]) == name)
                return static_cast<int>(i);
    return -1;
}

Result<Columns> columnsOf(const std::vector<std::string_view>& head) {
    Columns c;
    c.onset = columnNamed(head, {"onset", "start_sec", "start", "t_start", "onset_sec"});
    c.offset = columnNamed(head, {"offset", "end_sec", "end", "t_end", "offset_sec"});
    c.duration = columnNamed(head, {"duration", "dur_sec", "dur"});
    c.pitch = columnNamed(head, {"pitch", "midi", "note"});
    if (c.pitch < 0) {
        c.pitch = columnNamed(head, {"frequency", "freq", "hz", "f0"});
        c.hertz = true;
    }
    if (c.onset < 0 || (c.offset < 0 && c.duration < 0) || c.pitch < 0)
        return Problem{"the head line names no onset, offset (or duration) and pitch", "line 1", remedy};
    return c;
}

class Reader {
public:
    Result<std::vector<AnnotatedNote>> read(std::string_view text) {
        if (text.starts_with("\xEF\xBB\xBF")) // byte order mark
            text.remove_prefix(3);
        while (!text.empty()) {
            const std::size_t end = std::min(text.find('\n'), text.size());
            ++line;
            if (auto done = takeLine(text.substr(0, end)); !done)
                return done.problem();
            text.remove_prefix(std::min(end + 1, text.size()));
        }
        if (notes.empty())
            return Problem{"there is no note", "line " + std::to_string(line), remedy};
        std::ranges::stable_sort(notes, {}, &AnnotatedNote::onset);
        return std::move(notes);
    }

private:
    [[nodiscard]] Problem problem(const std::string& what) const {
        return {what, "line " + std::to_string(line), remedy};
    }

    Result<Done> takeLine(std::string_view text) {
        if (stripped(text).empty() || stripped(text).front() == '#')
            return Done{};
        if (separator == 0) {
            separator = text.find(';') != text.npos ? ';' : text.find('\t') != text.npos ? '\t' : ',';
            const auto head = cellsOf(text, separator);
            if (!finiteIn(head.front())) {
                auto found = columnsOf(head);
                if (!found)
                    return found.problem();
                columns = found.value();
                return Done{};
            }
        }
        return takeNote(cellsOf(text, separator));
    }

    Result<Done> takeNote(const std::vector<std::string_view>& cells) {
        const auto cell = [&](int column) {
            return column >= 0 && static_cast<std::size_t>(column) < cells.size()
                       ? cells[static_cast<std::size_t>(column)]
                       : std::string_view{};
        };
        const auto onset = finiteIn(cell(columns.onset));
        auto offset = finiteIn(cell(columns.offset));
        if (const auto length = finiteIn(cell(columns.duration)); !offset && onset && length)
            offset = *onset + *length;
        const auto midi = pitchIn(cell(columns.pitch));
        if (!onset || !offset || !midi)
            return problem("this is no note");
        if (*midi == 0.0)
            return Done{};
        if (!(*onset >= 0.0 && *offset <= secondsPerDay))
            return problem("the times are outside 0 to 24 hours");
        if (!(*offset > *onset))
            return problem("the note ends before it begins");
        if (!(*midi > 0.0 && *midi <= maxMidi))
            return problem("the pitch is outside MIDI 0 to 127");
        notes.push_back({*onset, *offset, *midi});
        return Done{};
    }

    [[nodiscard]] std::optional<double> pitchIn(std::string_view cell) const {
        const auto number = finiteIn(cell);
        if (number && columns.hertz)
            return *number < minHz ? 0.0 : midiOf(*number);
        if (number)
            return number;
        if (const auto named = parsePitch(cell))
            return static_cast<double>(*named);
        return std::nullopt;
    }

    std::vector<AnnotatedNote> notes;
    Columns columns;
    char separator = 0;
    int line = 0;
};

/// How many folders two paths share from the root.
std::ptrdiff_t shared(const std::filesystem::path& a, const std::filesystem::path& b) {
    return std::distance(a.begin(), std::mismatch(a.begin(), a.end(), b.begin(), b.end()).first);
}

} // namespace

Result<std::vector<AnnotatedNote>> readAnnotations(std::string_view text) {
    return Reader().read(text);
}

Result<std::vector<AnnotatedNote>> readAnnotationFile(const std::filesystem::path& path) {
    auto bytes = readFileBytes(path, maxAnnotationBytes);
    if (!bytes)
        return bytes.problem();
    auto notes = readAnnotations({reinterpret_cast<const char*>(bytes.value().data()), bytes.value().size()});
    if (!notes)
        return inFile(notes.problem(), pathText(path));
    return notes;
}

Result<std::vector<AnnotatedRecording>> annotatedRecordings(const std::filesystem::path& folder) {
    namespace fs = std::filesystem;
    std::error_code error;
    std::vector<fs::path> sounds;
    std::multimap<std::string, fs::path> notes;
    constexpr auto skip = fs::directory_options::skip_permission_denied;
    for (fs::recursive_directory_iterator at(folder, skip, error), end; !error && at != end;
         at.increment(error)) {
        const fs::path& path = at->path();
        if (hasSoundName(path))
            sounds.push_back(path);
        else if (endingOf(path) == ".csv")
            notes.emplace(pathText(path.stem()), path);
    }
    if (error)
        return Problem{"the folder cannot be read (" + error.message() + ")", pathText(folder),
                       "Check its name and rights"};
    std::ranges::sort(sounds);
    std::vector<AnnotatedRecording> found;
    for (const fs::path& sound : sounds) {
        std::optional<fs::path> nearest;
        for (const std::string& stem : {pathText(sound.stem()) + "_notes", pathText(sound.stem())})
            for (auto [at, end] = notes.equal_range(stem); at != end; ++at)
                if (!nearest || shared(at->second, sound) > shared(*nearest, sound))
                    nearest = at->second;
        if (nearest)
            found.push_back({sound, *nearest});
    }
    if (found.empty())
        return Problem{"there is no recording with notes beside it", pathText(folder),
                       "Put NAME.csv or NAME_notes.csv beside NAME.wav"};
    return found;
}

} // namespace valveladder
