#pragma once

#include "Plugin/TimeReport.h"

#include <cstdint>
#include <string>
#include <vector>

namespace valveladder::host {

/// A session's tempos and meters as a sequencer holds them: the truth that hosts report parts of.
class SongMap {
public:
    /// From `quarter` on. A ramp goes to the next tempo's bpm, evenly over quarters.
    struct Tempo {
        double quarter = 0.0;
        double bpm = 120.0;        ///< quarters a minute
        double noteQuarters = 1.0; ///< note value that the host counts the tempo in
        bool ramp = false;
    };
    /// From the bar line at `quarter` on.
    struct Meter {
        double quarter = 0.0;
        int beats = 4;
        int unit = 4;
    };

    SongMap(std::vector<Tempo> tempos, std::vector<Meter> meters);

    [[nodiscard]] double secondsAt(double quarter) const;
    [[nodiscard]] double quarterAt(double seconds) const;
    [[nodiscard]] const Tempo& tempoAt(double quarter) const;
    [[nodiscard]] double bpmAt(double quarter) const;
    struct BarBeat {
        std::int64_t bar = 0; ///< from 0
        double beat = 0.0;    ///< of the meter, into the bar
        Meter meter;
    };
    [[nodiscard]] BarBeat barAt(double quarter) const;
    [[nodiscard]] const std::vector<Tempo>& tempos() const { return tempoList; }
    [[nodiscard]] const std::vector<Meter>& meters() const { return meterList; }

private:
    [[nodiscard]] double secondsIn(std::size_t index, double quarter) const;

    std::vector<Tempo> tempoList;
    std::vector<Meter> meterList;
    std::vector<double> tempoStarts;     ///< seconds
    std::vector<std::int64_t> meterBars; ///< number of each meter's first bar
};

/// How a host tells its position to LV2 plugins.
struct Dialect {
    std::string name;
    bool everyBlock =
        true; ///< false: where it does not follow from the report before, as the extension allows
    bool insideBlock = false;    ///< a change inside a block is told there, with its sample
    double ticksPerBeat = 1920;  ///< positions are rounded to these; 0 = not rounded
    bool tempoInBeats = false;   ///< the meter's beats a minute, else the note value the tempo was written in
    bool rampAtItsStart = false; ///< on a ramp the first tempo is told throughout
    bool quartersBehindPoint = false; ///< of barBeat: whole beats of the meter, then quarters
    bool metersTold = true;           ///< where nothing but the meter changes
};

/// What a host with this dialect says about `frame`, the sample `offset` of a block.
[[nodiscard]] TimeReport reportAt(const SongMap& song, const Dialect& dialect, std::int64_t frame, int offset,
                                  double sampleRate, bool playing);

} // namespace valveladder::host
