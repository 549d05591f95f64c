#include "Engraving/RepeatSigns.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace valveladder {

namespace {

// Staff spaces, ours, by eye.
constexpr double jumpGap = 0.6; ///< from what stands under it to segno, coda and words
constexpr double jumpRoom = 2.2;
constexpr double jumpScale = 0.7;
constexpr double jumpGlyphGap = 0.6; ///< from the bar line
constexpr double jumpGlyphRoom = 3.0;
constexpr double endingHeight = 2.4; ///< from what stands under it to an ending's bracket
constexpr double endingHook = 1.9;
constexpr double half = bravura::endingLine / 2; ///< of the bracket's line
constexpr double endingInset = 0.3;              ///< between the bracket and its bar lines

class RepeatSigns {
public:
    RepeatSigns(const SheetLayout& l, Engraving& m, std::vector<SheetText>& t, double reach)
        : layout(l), music(m), texts(t), above(reach) {}

    double add() {
        addJumps();
        addEndings();
        return above;
    }

private:
    void addJumps() {
        const double y = -above - jumpGap;
        bool any = false;
        for (const PlacedBar& bar : music.bars) {
            const BarSigns& signs = signsOf(bar.bar);
            double x = bar.left + jumpGlyphGap;
            const auto mark = [&](bool wanted, Glyph glyph) {
                if (!wanted)
                    return;
                music.glyphs.push_back({glyph, x, y, -1, jumpScale});
                x += jumpGlyphRoom;
                any = true;
            };
            mark(signs.segno, Glyph::segno);
            mark(signs.coda, Glyph::coda);
            const std::string words = wordsAfter(signs);
            if (words.empty())
                continue;
            texts.push_back({TextStyle::label, words, bar.right, y, TextAlign::right, -1});
            any = true;
        }
        if (any)
            above += jumpGap + jumpRoom;
    }

    void addEndings() {
        const double top = -above - endingHeight;
        bool any = false;
        for (const PlacedBar& bar : music.bars) {
            const BarSigns& signs = signsOf(bar.bar);
            if (signs.endings.empty())
                continue;
            const double left = bar.left + endingInset;
            const double right = bar.right - endingInset;
            music.lines.push_back({opens(bar.bar) ? left : bar.left, top, closes(bar.bar) ? right : bar.right,
                                   top, bravura::endingLine});
            if (opens(bar.bar)) {
                music.lines.push_back({left, top - half, left, top + endingHook, bravura::endingLine});
                texts.push_back({TextStyle::small, passes(signs.endings), left + 0.6, top + endingHook - 0.2,
                                 TextAlign::left, -1});
            }
            if (signs.repeatTimes > 0)
                music.lines.push_back({right, top - half, right, top + endingHook, bravura::endingLine});
            any = true;
        }
        if (any)
            above += endingHeight + half;
    }

    [[nodiscard]] bool opens(int bar) const { return bar == 0 || signsOf(bar).endingStart; }

    [[nodiscard]] bool closes(int bar) const {
        const bool last = bar + 1 == static_cast<int>(layout.bars.size());
        return last || signsOf(bar).repeatTimes > 0 || signsOf(bar + 1).endings != signsOf(bar).endings;
    }

    /// "1." or "1., 2."
    static std::string passes(const std::vector<int>& endings) {
        return fmt::format("{}.", fmt::join(endings, "., "));
    }

    [[nodiscard]] std::string wordsAfter(const BarSigns& signs) const {
        std::vector<std::string> words;
        if (signs.repeatTimes > 2 && signs.endings.empty())
            words.push_back(fmt::format("{}x", signs.repeatTimes));
        if (signs.toCoda)
            words.emplace_back("To Coda");
        if (signs.fine)
            words.emplace_back("Fine");
        if (signs.dalSegno || signs.daCapo)
            words.push_back(std::string(signs.dalSegno ? "D.S." : "D.C.") + jumpEnd());
        return fmt::format("{}", fmt::join(words, "   "));
    }

    [[nodiscard]] std::string jumpEnd() const {
        const auto anywhere = [this](bool BarSigns::*sign) {
            return std::any_of(layout.bars.begin(), layout.bars.end(),
                               [sign](const SheetBar& bar) { return bar.signs.*sign; });
        };
        return anywhere(&BarSigns::toCoda) ? " al Coda" : anywhere(&BarSigns::fine) ? " al Fine" : "";
    }

    [[nodiscard]] const BarSigns& signsOf(int bar) const {
        return layout.bars[static_cast<std::size_t>(bar)].signs;
    }

    const SheetLayout& layout;
    Engraving& music;
    std::vector<SheetText>& texts;
    double above; ///< how far the line reaches over its staff
};

} // namespace

double addRepeatSigns(const SheetLayout& layout, Engraving& music, std::vector<SheetText>& texts,
                      double above) {
    return RepeatSigns(layout, music, texts, above).add();
}

} // namespace valveladder
