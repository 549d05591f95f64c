#include "Music/PlayOrder.h"

#include <algorithm>

namespace valveladder {

namespace {

bool contains(const std::vector<int>& passes, int pass) {
    return std::find(passes.begin(), passes.end(), pass) != passes.end();
}

class Player {
public:
    explicit Player(std::span<const BarSigns> signs) : bars(signs) {}

    Result<std::vector<int>> play() {
        while (at < count()) {
            if (order.size() >= maxPlayedBars)
                return Problem{"with its repeats the piece has more than " + std::to_string(maxPlayedBars) +
                                   " bars",
                               "bar " + std::to_string(at + 1), "read it without unrolling repeats"};
            enterRepeat();
            if (skipsEnding()) {
                ++at;
                continue;
            }
            order.push_back(at);
            if (jumped && bars[index()].fine)
                break;
            step();
        }
        return std::move(order);
    }

private:
    void enterRepeat() {
        if (bars[index()].repeatStart && repeatStart != at) {
            repeatStart = at;
            pass = 1;
        }
    }

    [[nodiscard]] bool skipsEnding() const {
        const std::vector<int>& endings = bars[index()].endings;
        if (endings.empty())
            return false;
        return jumped ? !contains(endings, lastPassOfGroup(at)) : !contains(endings, pass);
    }

    void step() {
        const BarSigns& signs = bars[index()];
        if (jumped && signs.toCoda) {
            const auto coda = std::find_if(bars.begin() + at + 1, bars.end(),
                                           [](const BarSigns& other) { return other.coda; });
            if (coda != bars.end()) {
                at = static_cast<int>(coda - bars.begin());
                return;
            }
        }
        if (!jumped && signs.repeatTimes > 0 && pass < passesAt(at)) {
            ++pass;
            at = repeatStart;
            return;
        }
        if (signs.repeatTimes > 0 || groupEnds())
            leaveRepeat();
        if (!jumped && (signs.daCapo || signs.dalSegno))
            return jump(signs.dalSegno);
        ++at;
    }

    void jump(bool toSegno) {
        jumped = true;
        const auto segno =
            std::find_if(bars.begin(), bars.end(), [](const BarSigns& other) { return other.segno; });
        at = toSegno && segno != bars.end() ? static_cast<int>(segno - bars.begin()) : 0;
        repeatStart = at;
        pass = 1;
    }

    void leaveRepeat() {
        repeatStart = at + 1;
        pass = 1;
    }

    /// The bar is the last of a run of endings.
    [[nodiscard]] bool groupEnds() const {
        return !bars[index()].endings.empty() && (at + 1 == count() || bars[index() + 1].endings.empty());
    }

    /// How often a repeat that ends at `bar` is played: as often as its endings ask for, else as it says.
    [[nodiscard]] int passesAt(int bar) const {
        const BarSigns& signs = bars[static_cast<std::size_t>(bar)];
        return signs.endings.empty() ? signs.repeatTimes : lastPassOfGroup(bar);
    }

    /// The highest pass named by the run of endings that holds `bar`.
    [[nodiscard]] int lastPassOfGroup(int bar) const {
        int highest = 0;
        const auto take = [&](int other) {
            const std::vector<int>& endings = bars[static_cast<std::size_t>(other)].endings;
            if (!endings.empty())
                highest = std::max(highest, *std::max_element(endings.begin(), endings.end()));
            return !endings.empty();
        };
        for (int other = bar; other >= 0 && take(other); --other) {
        }
        for (int other = bar + 1; other < count() && take(other); ++other) {
        }
        return highest;
    }

    [[nodiscard]] int count() const { return static_cast<int>(bars.size()); }
    [[nodiscard]] std::size_t index() const { return static_cast<std::size_t>(at); }

    std::span<const BarSigns> bars;
    std::vector<int> order;
    int at = 0;
    int repeatStart = 0;
    int pass = 1;
    bool jumped = false;
};

} // namespace

Result<std::vector<int>> playOrder(std::span<const BarSigns> bars) {
    return Player(bars).play();
}

} // namespace valveladder
