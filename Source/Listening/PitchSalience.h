#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace valveladder {

/// How periodic a moment of sound is at each pitch of a range: one value a quarter of a semitone.
struct Salience {
    /// Normalised autocorrelation at the bin, -1..1, octave errors discounted.
    std::vector<float> periodicity;
    std::vector<float> midi; ///< pitch of the bin's own peak, fractional MIDI number at A4 = 440 Hz
    double meanSquare = 0.0; ///< of the unfiltered sound in the shortest window
};

/// Normalised autocorrelation r(lag) = 2 sum x(t) x(t+lag) / sum (x(t)^2 + x(t+lag)^2) with windows that suit
/// each lag's period (McLeod and Wyvill 2005 name this the normalised square difference, less one). The
/// windows lie symmetrically about the moment asked for, so the lag of the analysis is half a window.
class PitchSalience {
public:
    static constexpr int binsPerSemitone = 4;

    /// Pitches in fractional MIDI numbers, low < high; rate in Hz.
    PitchSalience(double sampleRate, double lowMidi, double highMidi);

    /// Samples that must lie on either side of the moment.
    [[nodiscard]] int reach() const { return reachSamples; }
    [[nodiscard]] int bins() const { return binCount; }
    [[nodiscard]] double binMidi(int bin) const { return low + static_cast<double>(bin) / binsPerSemitone; }
    /// `centre` points at the moment, with reach() samples valid on either side of it.
    void analyse(const float* centre, Salience& out);

private:
    void correlate(const float* centre);
    void fillBins(Salience& out) const;
    void markPeaks(Salience& out) const;
    void discountOctaves(Salience& out) const;
    /// A place between the lags computed, and the weights of its neighbours.
    struct Place {
        std::size_t first = 0; ///< into `correlation`
        std::size_t count = 0;
        std::array<float, 8> weights{};
    };
    struct Bin {
        Place whole; ///< its own lag
        Place half;
        Place twoThirds;
        float octaves = 0.0F; ///< above the shortest lag
    };
    /// By band-limited interpolation: at few samples a period a straight line would cost a sharp peak a fifth
    /// of its height. At either end, where neighbours are missing, a straight line all the same.
    [[nodiscard]] Place placeOf(double lag) const;
    [[nodiscard]] float correlationAt(const Place& place) const;

    double rate;
    double low;
    int binCount;
    int minLag;
    int maxLag;
    int reachSamples;
    std::vector<float> correlation; ///< index: lag - minLag
    std::vector<double> squares;    ///< prefix sums over the widest window
    std::vector<Bin> binPlaces;
};

} // namespace valveladder
