// Every text of the window is there whole: each glyph that is drawn lies inside what it is drawn in and over
// no other text, and every line is as long as its words. Lines are drawn whole (Screen/Wrap.h), so that one
// that does not fit stands out of its place, and is found here; those that JUCE draws itself are measured.

#include "Screen/Find.h"
#include "Screen/InventedLog.h"
#include "Screen/Snapshot.h"
#include "Screen/SvgContext.h"
#include "Screen/WindowPlaces.h"
#include "Screen/WindowSize.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <gtest/gtest.h>
#include <set>

namespace valveladder {

namespace {

using pictures::InventedLog;

/// Letters as they are drawn: where, within which clip.
class TextWatch final : public SvgContext {
public:
    TextWatch(int wide, int high) : SvgContext(wide, high), page(0, 0, wide, high) {}

    void drawGlyph(int glyph, const juce::AffineTransform& transform) override {
        juce::Path outline;
        const juce::Font& font = getFont();
        squeezed = squeezed || font.getHorizontalScale() < 0.999F;
        heights.push_back(font.getHeight());
        font.getTypefacePtr()->getOutlineForGlyph(glyph, outline);
        outline.applyTransform(
            juce::AffineTransform::scale(font.getHeight() * font.getHorizontalScale(), font.getHeight())
                .followedBy(transform));
        const auto ink = onPage(outline.getBounds());
        const auto clip = getClipBounds().toFloat();
        if (!ink.isEmpty() && !onPage(clip.expanded(1.5F)).contains(ink))
            outside.push_back(ink);
        if (const auto seen = ink.getIntersection(onPage(clip)); !seen.isEmpty())
            letters.push_back(seen);
        SvgContext::drawGlyph(glyph, transform);
    }

    /// Letters that lie over one another by more than their edges.
    [[nodiscard]] std::vector<juce::Rectangle<float>> overlaps() const {
        std::vector<juce::Rectangle<float>> found;
        for (std::size_t i = 0; i < letters.size(); ++i)
            for (std::size_t j = i + 1; j < letters.size(); ++j) {
                const auto both = letters[i].getIntersection(letters[j]);
                if (both.getWidth() > 2.0F && both.getHeight() > 2.0F)
                    found.push_back(both);
            }
        return found;
    }

    juce::Rectangle<int> page;
    std::vector<juce::Rectangle<float>> outside, letters;
    std::vector<float> heights; ///< of each letter's font
    bool squeezed = false;
};

std::string at(const std::vector<juce::Rectangle<float>>& places) {
    std::string text;
    for (std::size_t i = 0; i < std::min<std::size_t>(places.size(), 6); ++i)
        text += places[i].toString().toStdString() + "; ";
    return text;
}

bool shows(const juce::Component& component, const juce::Component& window) {
    for (const auto* up = &component; up != nullptr && up != &window; up = up->getParentComponent())
        if (!up->isVisible())
            return false;
    return true;
}

/// What JUCE draws of its own controls is cut or squeezed where it is longer than its room.
void measure(juce::Component& component, const juce::Component& window, const std::string& where) {
    if (!shows(component, window))
        return;
    const auto fits = [&](const juce::String& text, float width, float room) {
        EXPECT_LE(width, room + 1.0F) << where << ": \"" << text << "\"";
    };
    if (const auto* label = dynamic_cast<const juce::Label*>(&component)) {
        if (label->getText().isNotEmpty()) {
            const auto room = label->getBorderSize().subtractedFrom(label->getLocalBounds());
            const juce::Font font = const_cast<juce::Label*>(label)->getLookAndFeel().getLabelFont(
                *const_cast<juce::Label*>(label));
            const auto lines = wrapped(label->getText(), font, static_cast<float>(room.getWidth())).size();
            const float high = font.getHeight() * static_cast<float>(lines);
            EXPECT_LE(high, std::max(static_cast<float>(room.getHeight()), font.getHeight()) + 1.0F)
                << where << ": \"" << label->getText() << "\" in " << room.toString();
        }
    } else if (auto* button = dynamic_cast<juce::TextButton*>(&component)) {
        fits(
            button->getButtonText(),
            textWidth(button->getToggleState() ? boldFont(16.0F) : plainFont(16.0F), button->getButtonText()),
            static_cast<float>(button->getWidth()) - 8.0F);
    } else if (auto* toggle = dynamic_cast<juce::ToggleButton*>(&component)) {
        fits(toggle->getButtonText(), textWidth(plainFont(16.0F), toggle->getButtonText()),
             static_cast<float>(toggle->getWidth()) - 30.0F);
    } else if (const auto* card = dynamic_cast<const Card*>(&component)) {
        EXPECT_GE(card->getHeight(), card->heightFor(card->getWidth())) << where;
    }
    for (juce::Component* child : component.getChildren())
        measure(*child, window, where);
}

/// What scrolls may be cut where it scrolls out of sight: pages at their head and foot, fields that are typed
/// into on all sides.
void scrolled(juce::Component& component, juce::Component& window, std::vector<juce::Rectangle<float>>& pages,
              std::vector<juce::Rectangle<float>>& fields) {
    if (!shows(component, window))
        return;
    const auto area = window.getLocalArea(&component, component.getLocalBounds()).toFloat().expanded(2.0F);
    if (const auto* editor = dynamic_cast<const juce::TextEditor*>(&component))
        (editor->isMultiLine() ? pages : fields).push_back(area);
    else if (dynamic_cast<const juce::Viewport*>(&component) != nullptr)
        pages.push_back(area);
    for (juce::Component* child : component.getChildren())
        scrolled(*child, window, pages, fields);
}

/// Letters that are cut and could not be scrolled into sight.
std::vector<juce::Rectangle<float>> cut(Window& window, const std::vector<juce::Rectangle<float>>& outside) {
    std::vector<juce::Rectangle<float>> pages, fields, found;
    scrolled(window, window, pages, fields);
    for (const auto& ink : outside) {
        const auto beside = [&ink](const juce::Rectangle<float>& page) {
            return ink.getX() >= page.getX() && ink.getRight() <= page.getRight();
        };
        const auto within = [&ink](const juce::Rectangle<float>& field) {
            return ink.getCentreY() > field.getY() && ink.getCentreY() < field.getBottom();
        };
        if (std::none_of(pages.begin(), pages.end(), beside) &&
            std::none_of(fields.begin(), fields.end(), within))
            found.push_back(ink);
    }
    return found;
}

void check(Window& window, const std::string& where) {
    window.refresh();
    measure(window, window, where);
    TextWatch watch(window.getWidth(), window.getHeight());
    juce::Graphics g(watch);
    window.paintEntireComponent(g, true);
    EXPECT_FALSE(watch.squeezed) << where << ": letters are squeezed";
    const auto outside = cut(window, watch.outside);
    EXPECT_TRUE(outside.empty()) << where << ": text stands out of its place: " << at(outside);
    const auto over = watch.overlaps();
    EXPECT_TRUE(over.empty()) << where << ": texts lie over one another: " << at(over);
    EXPECT_GT(watch.letters.size(), 20U) << where;
}

/// Letters of a part of the window, each whole and over no other; `besides`: of the part, where they may be
/// cut.
int lettersThatFit(juce::Component& part, const std::string& where, juce::Rectangle<float> besides = {}) {
    TextWatch watch(part.getWidth(), part.getHeight());
    juce::Graphics g(watch);
    part.paintEntireComponent(g, true);
    std::erase_if(watch.outside, [&](const auto& ink) { return besides.contains(ink.getCentre()); });
    EXPECT_FALSE(watch.squeezed) << where;
    EXPECT_TRUE(watch.outside.empty()) << where << at(watch.outside);
    EXPECT_TRUE(watch.overlaps().empty()) << where << at(watch.overlaps());
    return static_cast<int>(watch.letters.size());
}

/// Where a text is typed into, which scrolls to both sides.
juce::Rectangle<float> typedInto(NoteSheet& sheet) {
    const auto* editor = find<juce::TextEditor>(sheet, [](const juce::TextEditor&) { return true; });
    const auto area = sheet.getLocalArea(editor, editor->getLocalBounds()).toFloat();
    return area.withX(-1.0e5F).withWidth(2.0e5F);
}

juce::String longestTakeName() {
    TakeSummary take;
    take.playedBpm = 288.8;
    return toText(words::takeChoice("28 September  22:58", take));
}

/// Controls and labels under a page that are drawn; each lies whole in what is seen of it.
int shownWhole(const juce::Viewport& scroll, juce::Component& parent) {
    int whole = 0;
    for (juce::Component* child : parent.getChildren()) {
        if (!child->isVisible() || child->getAlpha() <= 0.0F)
            continue;
        if (dynamic_cast<Form*>(child) != nullptr) {
            whole += shownWhole(scroll, *child);
            continue;
        }
        const auto area = scroll.getLocalArea(child, child->getLocalBounds());
        const auto seen = scroll.getLocalBounds();
        if (area.getBottom() <= seen.getY() || area.getY() >= seen.getBottom())
            continue;
        ++whole;
        EXPECT_TRUE(area.getY() >= seen.getY() && area.getBottom() <= seen.getBottom())
            << child->getTitle() << " at " << area.toString();
    }
    return whole;
}

struct Case {
    int width, height, percent;
};
/// The smallest window, a small display's, the usual one, and a 4K display at 100 to 300 %.
constexpr std::array<Case, 7> cases{{{900, 600, 100},
                                     {1366, 728, 100},
                                     {1280, 800, 150},
                                     {1920, 1040, 200},
                                     {1280, 720, 300},
                                     {3840, 2120, 100},
                                     {1920, 1040, 100}}};

struct Stage {
    InventedLog invented;
    Processor plugin;

    explicit Stage(const Preferences& preferences) {
        EXPECT_TRUE(writePreferences(preferencesPath(), preferences));
        SessionConfig config;
        config.player = InventedLog::player;
        config.instrument = invented.instrument();
        config.drill = defaultDrill(config.instrument);
        config.invented = true;
        EXPECT_TRUE(plugin.setConfig(config));
    }
};

const Instrument& longestNamed() {
    return *std::max_element(
        catalogue().begin(), catalogue().end(),
        [](const Instrument& a, const Instrument& b) { return a.name.size() < b.name.size(); });
}

} // namespace

TEST(WindowFits, EveryPlaceAtEverySizeDarkAndLight) {
    for (const bool dark : {true, false}) {
        Stage stage({.dark = dark, .spelling = Spelling::fixedDo, .welcomed = true});
        Window window(stage.plugin);
        window.filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
        ASSERT_TRUE(pump(window, [&] { return theOne<PartPlace>(window).part() != nullptr; }));
        window.goTo(Window::Place::landing);
        ASSERT_TRUE(pump(window, [&] { return resultIsShown(window); }));
        for (const Case& each : cases)
            for (const auto& [place, name] : places) {
                window.setSize(each.width, each.height);
                window.goTo(place);
                const std::string where = std::string(name) + " at " + std::to_string(each.width) + "x" +
                                          std::to_string(each.height) + (dark ? ", dark" : ", light");
                check(window, where);
                if (dark == (each.width == 1280))
                    pictures::save(pictures::render(window, static_cast<float>(each.percent) / 100.0F),
                                   "fits-" + std::string(name).substr(0, 5) + "-" +
                                       std::to_string(each.width));
            }
        window.setSize(900, 600);
        window.goTo(Window::Place::landing);
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('d', juce::ModifierKeys(), 'd')));
        check(window, "details");
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('m', juce::ModifierKeys(), 'm')));
        check(window, "details with messages");
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('b', juce::ModifierKeys(), 'b')));
        check(window, "side by side with messages");
        window.setSize(1280, 800);
        for (const auto& [place, name] : places) {
            window.goTo(place);
            check(window, std::string(name) + " with messages");
            pictures::save(pictures::render(window, 1.0F),
                           "messages-" + std::string(name).substr(0, 5) + (dark ? "-dark" : "-light"));
        }
    }
}

TEST(WindowFits, TheSetUpUnfolded) {
    for (const bool dark : {true, false}) {
        Stage stage({.dark = dark, .spelling = Spelling::fixedDo, .welcomed = true});
        Window window(stage.plugin);
        window.goTo(Window::Place::setUp);
        theOne<SetupPlace>(window).unfoldAll(true);
        for (const Case& each : cases) {
            window.setSize(each.width, each.height);
            check(window, "the set-up unfolded at " + std::to_string(each.width));
        }
    }
}

TEST(WindowFits, CardsDarkAndLight) {
    for (const bool dark : {true, false})
        for (const bool trouble : {true, false})
            for (const Case& each : {cases[0], cases[2]}) {
                Stage stage({.dark = dark, .welcomed = true});
                Window window(stage.plugin);
                window.setSize(each.width, each.height);
                if (trouble) {
                    const std::string folder = "a folder with a long name/";
                    theOne<SetupPlace>(window).panel().onProblem(
                        {"the log cannot be written", "/" + folder + folder + folder + folder + "log.sqlite",
                         "choose a folder that you may write to, or free some room on its disk"});
                } else {
                    SessionConfig config = stage.plugin.config();
                    config.drill.name =
                        "bars 117-118: 1-2-3 to 2-4, six times, played twice, at 12 changes a second";
                    theOne<SetupPlace>(window).panel().onDrill(config);
                }
                auto* card = find<Card>(window, [](const Card&) { return true; });
                ASSERT_NE(card, nullptr);
                const std::string where = (trouble ? "a problem at " : "a replaced drill at ") +
                                          std::to_string(each.width) + (dark ? ", dark" : ", light");
                EXPECT_TRUE(window.getLocalBounds().contains(card->getBounds())) << where;
                measure(*card, window, where);
                EXPECT_GT(lettersThatFit(*card, where), 60) << where;
                pictures::save(pictures::render(window, 1.0F),
                               std::string("card-") + (trouble ? "problem-" : "drill-") +
                                   std::to_string(each.width) + (dark ? "-dark" : "-light"));
            }
}

TEST(WindowFits, NoticesWhilePlaying) {
    const std::array<std::pair<Notice::Kind, std::function<void(SessionView&)>>, 3> states{
        {{Notice::Kind::wrongTempo,
          [](SessionView& view) {
              view.clock = Clock::host;
              view.bpm = 172.5;
              view.mismatch = "The host is at 172.5, this take is planned at 166.5";
          }},
         {Notice::Kind::noInput, [](SessionView&) {}},
         {Notice::Kind::logTrouble, [](SessionView& view) {
              view.logTrouble =
                  Problem{"the disk is full", "/home/somebody/a long folder/log.sqlite", "free some room"};
              view.waitingTakes = 12;
          }}}};
    for (const Theme* theme : {&Theme::dark(), &Theme::light()})
        for (const auto& [width, height] : {std::pair{900, 484}, {1280, 684}})
            for (const auto& [kind, change] : states) {
                SessionView view = pictures::runningView("tuba-b-flat-4");
                view.inTake = false;
                change(view);
                Look look(*theme);
                RungPlace place;
                place.setLookAndFeel(&look);
                place.setSize(width, height);
                ClockReading clock;
                clock.playing = true;
                clock.ppq = 7.3;
                const PlayModel model = playModel(
                    view, clock, true,
                    kind == Notice::Kind::noInput ? InputSeen::nothing : InputSeen::something, {true, false});
                EXPECT_EQ(model.notice.kind, kind);
                place.show(model, {false, {Spelling::fixedDo, true}});
                EXPECT_GT(lettersThatFit(place, model.notice.title), 60);
                place.setLookAndFeel(nullptr);
            }
}

TEST(WindowFits, DetailsShowWholeSentencesOfWhatWasFound) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.goTo(Window::Place::landing);
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('d', juce::ModifierKeys(), 'd')));
    const auto column = [&](const char* title) {
        return find<juce::TextEditor>(
            window, [title](const juce::TextEditor& each) { return each.getTitle() == title; });
    };
    ASSERT_TRUE(pump(window, [&] {
        return column(words::findingsTitle) != nullptr &&
               column(words::findingsTitle)->getText().isNotEmpty();
    }));
    for (const Case& each : cases) {
        window.setSize(each.width, each.height);
        for (const char* title : {words::findingsTitle, words::nextTitle}) {
            juce::TextEditor* text = column(title);
            if (text == nullptr)
                continue; // on its button alone
            const int end = text->getTextIndexAt(text->getWidth() - 1, text->getHeight() - 3);
            const auto seen = text->getText().substring(0, end).trimEnd();
            const auto rest = text->getText().substring(end);
            EXPECT_TRUE(rest.trim().isEmpty() || rest.startsWith("\n") || seen.length() + 2 <= end)
                << title << " at " << each.width << ": " << seen;
        }
    }
}

TEST(WindowFits, SlowestChangesHaveRoomToRead) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.goTo(Window::Place::stair);
    ChangesView* changes = nullptr;
    for (const Case& each : cases) {
        window.setSize(each.width, each.height);
        ASSERT_TRUE(pump(window, [&] {
            changes = find<ChangesView>(window, [](const ChangesView& view) { return view.rowsShown() > 0; });
            return changes != nullptr;
        })) << each.width;
        EXPECT_LE(changes->rowsShown() * 22, changes->getHeight());
    }
    window.setSize(1920, 1040);
    const int most = changes->rowsShown();
    window.setSize(900, 600);
    EXPECT_LT(changes->rowsShown(), most);
    TextWatch watch(changes->getWidth(), changes->getHeight());
    juce::Graphics g(watch);
    changes->paintEntireComponent(g, true);
    EXPECT_TRUE(watch.overlaps().empty()) << at(watch.overlaps());
}

TEST(WindowFits, HeadsOfSpotsStandOverTheirColumns) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
    ASSERT_TRUE(pump(window, [&] { return theOne<PartList>(window).chosen() == 0; }));
    PartList& list = theOne<PartList>(window);
    for (const Case& each : cases) {
        window.setSize(each.width, each.height);
        TextWatch watch(list.getWidth(), list.getHeight());
        juce::Graphics g(watch);
        list.paintEntireComponent(g, true);
        for (int column = 0; column < PartList::columnCount; ++column) {
            const auto area = list.columnAt(column, list.head());
            float head = 1.0e4F;
            float cell = 1.0e4F;
            for (const auto& letter : watch.letters)
                if (letter.getCentreX() >= area.getX() && letter.getCentreX() < area.getRight()) {
                    const bool isHead = letter.getBottom() <= area.getBottom();
                    float& first = isHead ? head : cell;
                    first = std::min(first, letter.getX());
                    EXPECT_LE(letter.getRight(), area.getRight() - (isHead ? 4.0F : 0.0F))
                        << column << " at " << each.width;
                }
            EXPECT_NEAR(head, cell, 2.5F) << column << " at " << each.width;
        }
    }
}

TEST(WindowFits, TheSheetForANoteAtEverySizeDarkAndLight) {
    for (const bool dark : {true, false}) {
        Stage stage({.dark = dark, .welcomed = true});
        Window window(stage.plugin);
        window.goTo(Window::Place::landing);
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('d', juce::ModifierKeys(), 'd')));
        TakeList* list = nullptr;
        ASSERT_TRUE(pump(window, [&] {
            list = find<TakeList>(window, [](const TakeList& each) { return each.chosen() != nullptr; });
            return list != nullptr;
        }));
        list->onNoteWanted(*list->chosen());
        auto* sheet = find<NoteSheet>(window, [](const NoteSheet&) { return true; });
        ASSERT_NE(sheet, nullptr);
        sheet->open(longestTakeName(), juce::String::repeatedString("What a day. ", 20), {});
        for (const Case& each : cases) {
            window.setSize(each.width, each.height);
            const std::string where = "note at " + std::to_string(each.width);
            EXPECT_TRUE(window.getLocalBounds().contains(sheet->getBounds())) << where;
            measure(*sheet, window, where);
            EXPECT_GT(lettersThatFit(*sheet, where, typedInto(*sheet)), 40) << where;
            if (each.width == 900 || each.width == 1280)
                pictures::save(pictures::render(window, 1.0F),
                               "note-" + std::to_string(each.width) + (dark ? "-dark" : "-light"));
        }
        window.goTo(Window::Place::stair);
        EXPECT_FALSE(sheet->isVisible()) << "it belongs to the take";
    }
}

TEST(WindowFits, FingeringsUnderATakesNotesStandApart) {
    const InventedLog invented;
    const auto take = pictures::takeWithEverySign(invented);
    ResultStaff staff;
    bool sideBySide = false;
    bool stacked = false;
    for (int width = 600; width <= 1600; width += 40) { // the narrowest window gives it 724
        staff.setSize(width, 300);
        for (const int segment : {0, 1, 2, 3}) {
            staff.show(take, {0, segment});
            const auto all = staff.fingerings();
            ASSERT_GT(all.size(), 4U);
            sideBySide = sideBySide || all.front().text.contains("-");
            stacked = stacked || all[0].area.getY() < all[1].area.getY();
            for (std::size_t i = 0; i < all.size(); ++i)
                for (std::size_t j = i + 1; j < all.size(); ++j) {
                    const auto &one = all[i].area, &other = all[j].area;
                    const bool onOneLine = one.getY() < other.getBottom() && other.getY() < one.getBottom();
                    EXPECT_TRUE(!onOneLine || other.getX() - one.getRight() >= 3.0F)
                        << all[i].text << " beside " << all[j].text << " at " << width;
                    EXPECT_LT(other.getBottom(), static_cast<float>(staff.getHeight()));
                }
        }
    }
    EXPECT_TRUE(sideBySide && stacked) << "both were looked at";
}

TEST(WindowFits, ALookRoundInEveryPlace) {
    Stage stage({.dark = false, .spelling = Spelling::fixedDo});
    Window window(stage.plugin);
    window.startLookRound();
    ASSERT_TRUE(pump(window, [&] { return resultIsShown(window); }));
    for (const Case& each : {cases[0], cases[2]})
        for (const auto& [place, name] : places) {
            window.setSize(each.width, each.height);
            window.goTo(place);
            check(window, std::string(name) + " in a look round at " + std::to_string(each.width));
        }
}

TEST(WindowFits, TheLongestNames) {
    const host::TempLog log;
    EXPECT_TRUE(writePreferences(preferencesPath(), {.spelling = Spelling::fixedDo, .welcomed = true}));
    Processor plugin;
    SessionConfig config;
    config.player = "Maximiliane-Alexandra von und zu Beispielhausen";
    config.instrument = longestNamed();
    config.drill = defaultDrill(config.instrument);
    ASSERT_TRUE(plugin.setConfig(config));
    Window window(plugin);
    for (const auto& [place, name] : places)
        for (const Case& each : {cases[0], cases[2]}) {
            window.setSize(each.width, each.height);
            window.goTo(place);
            check(window, std::string(name) + " with the longest names at " + std::to_string(each.width));
        }
}

TEST(WindowFits, EveryDrillWhilePlaying) {
    for (const Instrument& instrument : catalogue()) {
        const SessionView view = pictures::runningView(instrument.id);
        RungPlace place;
        Look look;
        place.setLookAndFeel(&look);
        place.setSize(900, 484);
        ClockReading clock;
        clock.playing = true;
        clock.ppq = 7.3;
        place.show(playModel(view, clock, true, InputSeen::nothing), {false, {Spelling::fixedDo, true}});
        lettersThatFit(place, instrument.id);
        place.setLookAndFeel(nullptr);
    }
}

namespace {

/// Letters of a part, as large as three quarters of the segment's name at least.
int largeLetters(juce::Component& part) {
    TextWatch watch(part.getWidth(), part.getHeight());
    juce::Graphics g(watch);
    part.paintEntireComponent(g, true);
    EXPECT_TRUE(watch.outside.empty()) << at(watch.outside);
    EXPECT_TRUE(watch.overlaps().empty()) << at(watch.overlaps());
    const float least = 0.75F * boldFont(grid::figure).getHeight();
    return static_cast<int>(
        std::ranges::count_if(watch.heights, [least](float height) { return height >= least; }));
}

int lettersOf(const juce::String& text) {
    return text.removeCharacters(" ").length();
}

/// The window's smallest place, and what it shows in a state.
struct SmallPlace {
    Look look;
    RungPlace place;

    SmallPlace() {
        place.setLookAndFeel(&look);
        place.setSize(900, 484);
    }
    ~SmallPlace() { place.setLookAndFeel(nullptr); }
    template <typename Part>
    Part& part() {
        return *find<Part>(place, [](const Part&) { return true; });
    }
};

} // namespace

TEST(WindowFits, TheTakesStateIsReadFromTwoMetresAndMovesNothing) {
    SmallPlace small;
    SessionView view = pictures::runningView("trumpet-b-flat");
    std::optional<juce::Rectangle<int>> staff;
    for (const Surroundings& around : {Surroundings{false, true}, {true, false}})
        for (const TakeWay way :
             {TakeWay::recordingPass, TakeWay::loopPass, TakeWay::playing, TakeWay::marker, TakeWay::hand})
            for (const Clock clock : {Clock::none, Clock::own, Clock::host, Clock::link})
                for (const auto& [playing, inTake] :
                     {std::pair{true, true}, std::pair{true, false}, std::pair{false, false}}) {
                    view.way = way;
                    view.clock = clock;
                    view.playing = view.recording = playing;
                    view.inTake = inTake;
                    ClockReading reading;
                    reading.playing = playing;
                    reading.ppq = 7.3;
                    const PlayModel model = playModel(view, reading, true, InputSeen::something, around);
                    small.place.show(model, {});
                    const auto staffNow = small.part<StaffView>().getBounds();
                    EXPECT_EQ(staffNow, staff.value_or(staffNow));
                    staff = staffNow;
                    const int large = largeLetters(small.part<PlayHeader>());
                    const std::string& state =
                        model.notice.kind == Notice::Kind::none ? model.take : model.notice.title;
                    EXPECT_GE(large, lettersOf("Even, firm") + lettersOf(toText(state)) + 2)
                        << state; // and the tempo
                }
}

TEST(WindowFits, BreathAndCountInAreReadFromTwoMetres) {
    SmallPlace small;
    const SessionView view = pictures::runningView("trumpet-b-flat");
    for (const auto& [ppq, text] : {std::pair{1.2, words::countIn}, std::pair{12.6, words::breathe}}) {
        ClockReading reading;
        reading.playing = true;
        reading.ppq = ppq;
        const PlayModel model = playModel(view, reading, true, InputSeen::something);
        ASSERT_GT(model.beatsToEntry, 0);
        small.place.show(model, {});
        // How many beats, and the next combination with its note beside.
        const auto& next = view.setup->score().notes[model.note];
        const int beside = lettersOf(toText(view.setup->config.instrument.combinationName(next.combination)));
        EXPECT_GE(largeLetters(small.part<NowNext>()), 1 + beside + lettersOf(text)) << text;
    }
}

TEST(WindowFits, NoRowOfTheSetUpIsCutInMidLine) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.setSize(900, 600);
    window.goTo(Window::Place::setUp);
    for (const bool open : {false, true}) {
        theOne<SetupPlace>(window).unfoldAll(open);
        for (int y = 0; y < 1600; y += 37) {
            int whole = 0;
            for (juce::Component* child : theOne<SetupPlace>(window).getChildren()) {
                auto* scroll = dynamic_cast<juce::Viewport*>(child);
                if (scroll == nullptr)
                    continue;
                scroll->setViewPosition(0, y);
                whole += shownWhole(*scroll, *scroll->getViewedComponent());
            }
            EXPECT_GT(whole, 5) << y;
        }
    }
}

TEST(WindowFits, TheTempoIsTappedOnItsOwnRow) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    for (const int width : {900, 1920}) {
        window.setSize(width, width * 2 / 3);
        window.goTo(Window::Place::setUp);
        const auto* tempo = find<juce::Slider>(
            window, [](const juce::Slider& each) { return each.getTitle() == words::startField; });
        const auto* tap = buttonCalled(window, words::tapButton);
        ASSERT_TRUE(tempo != nullptr && tap != nullptr);
        EXPECT_EQ(tempo->getY(), tap->getY());
        EXPECT_LT(tempo->getRight(), tap->getX());
    }
}

TEST(WindowFits, DisplayAndKeptSetUpsFoldLikeTheOthers) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.goTo(Window::Place::setUp);
    for (const auto& [heading, field] : {std::pair{words::displayHeading, words::themeField},
                                         std::pair{words::keptHeading, words::keptField}}) {
        const auto shown = [&, name = field] {
            return find<juce::ComboBox>(window, [&](const juce::ComboBox& each) {
                       return each.getTitle() == name;
                   }) != nullptr;
        };
        auto* fold = find<juce::TextButton>(
            window, [name = heading](const juce::TextButton& each) { return each.getTitle() == name; });
        ASSERT_NE(fold, nullptr) << heading;
        EXPECT_FALSE(shown()) << heading;
        fold->onClick();
        EXPECT_TRUE(shown()) << heading;
        fold->onClick();
        EXPECT_FALSE(shown()) << heading;
    }
}

TEST(WindowFits, ALargeWindowGivesItsRoomToTheMusic) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.setSize(1920, 1040);
    window.filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
    ASSERT_TRUE(pump(window, [&] { return theOne<PartPlace>(window).part() != nullptr; }));
    const PartStaff& bars = theOne<PartStaff>(window);
    EXPECT_GT(bars.getWidth() * 10, window.getWidth() * 7);
    EXPECT_GT(bars.getHeight() * 10, window.getHeight() * 5);
    EXPECT_GT(bars.staffSpace(), 18.0F);
    window.setSize(900, 600);
    EXPECT_LT(bars.staffSpace(), 12.0F);
    window.setSize(1920, 1040);
    window.goTo(Window::Place::first);
    const auto* sheet = find<FirstSheet>(window, [](const FirstSheet&) { return true; });
    ASSERT_NE(sheet, nullptr);
    EXPECT_TRUE(pump(window, [&] { return sheet->breathsShown() == 4; })) << sheet->breathsShown();
    EXPECT_GT(sheet->getWidth() * 10, window.getWidth() * 4);
    EXPECT_GT(sheet->getHeight() * 10, window.getHeight() * 5);
    window.setSize(1280, 800);
    EXPECT_GE(sheet->breathsShown(), 1);
    EXPECT_GE(sheet->staffSpace(), 7.0F) << "a breath on two lines is legible";
    window.setSize(900, 600);
    EXPECT_LE(sheet->breathsShown(), 1);
}

TEST(WindowFits, ASpotsBarsKeepTheirFingeringsApartAtEverySize) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
    ASSERT_TRUE(pump(window, [&] { return theOne<PartPlace>(window).part() != nullptr; }));
    const std::shared_ptr<const OpenedPart> part(std::shared_ptr<void>(),
                                                 theOne<PartPlace>(window).part()); // the window's own
    Look look;
    std::set<int> notes; // of a spot of two bars: both, and the first alone
    for (const auto& [width, height] : {std::pair{900, 500}, {480, 300}, {480, 140}, {420, 200}, {330, 260}})
        for (int spot = 0; spot < static_cast<int>(part->spots.size()); ++spot) {
            PartStaff staff;
            staff.setLookAndFeel(&look);
            staff.setSize(width, height);
            staff.show(part, spot);
            const std::string where = "spot " + std::to_string(spot) + " at " + std::to_string(width) + "x" +
                                      std::to_string(height);
            EXPECT_GT(lettersThatFit(staff, where), 3) << where;
            EXPECT_GE(staff.staffSpace(), 5.0F) << where;
            if (spot == 1)
                notes.insert(staff.notesShown());
            pictures::save(pictures::render(staff, 1.0F), "spot-" + std::to_string(spot) + "-" +
                                                              std::to_string(width) + "x" +
                                                              std::to_string(height));
            staff.setLookAndFeel(nullptr);
        }
    EXPECT_GE(notes.size(), 2U) << "both were looked at";
}

TEST(WindowFits, PlayWithASpotsDrillAndTheWayBackToTheDailyOne) {
    for (const bool dark : {true, false}) {
        Stage stage({.dark = dark, .spelling = Spelling::fixedDo, .welcomed = true});
        Window window(stage.plugin);
        window.filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
        ASSERT_TRUE(pump(window, [&] { return theOne<PartPlace>(window).part() != nullptr; }));
        theOne<PartPlace>(window).drillFromSpot();
        ASSERT_TRUE(pump(window, [&] { return buttonCalled(window, words::dailyDrill) != nullptr; }));
        auto* card = find<Card>(window, [](const Card&) { return true; });
        ASSERT_NE(card, nullptr);
        card->setVisible(false);
        for (const Case& each : cases) {
            window.setSize(each.width, each.height);
            check(window, "a spot's drill at " + std::to_string(each.width));
            if (each.width == 900 || each.width == 1366)
                pictures::save(pictures::render(window, 1.0F),
                               "spot-drill-" + std::to_string(each.width) + (dark ? "-dark" : "-light"));
        }
    }
}

TEST(WindowFits, TheLadderStandsAtTheLeftInEveryPlace) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.goTo(Window::Place::landing);
    ASSERT_TRUE(pump(window, [&] { return resultIsShown(window); }));
    for (const Case& each : {cases[0], cases[1], cases[5]})
        for (const auto place :
             {Window::Place::rung, Window::Place::landing, Window::Place::stair, Window::Place::part}) {
            window.setSize(each.width, each.height);
            window.goTo(place);
            window.refresh();
            const auto* ladder = find<LadderView>(window, [](const LadderView&) { return true; });
            ASSERT_NE(ladder, nullptr) << static_cast<int>(place);
            EXPECT_FALSE(ladder->empty()) << static_cast<int>(place);
            EXPECT_EQ(window.getLocalPoint(ladder, juce::Point<int>()).x, 24) << static_cast<int>(place);
            EXPECT_EQ(ladder->getWidth(), LadderView::width) << static_cast<int>(place);
        }
}

TEST(WindowFits, ACellOfTheLadderInWeeksOpensInTake) {
    Stage stage({.welcomed = true});
    Window window(stage.plugin);
    window.goTo(Window::Place::stair);
    LadderView* ladder = nullptr;
    ASSERT_TRUE(pump(window, [&] {
        ladder = find<LadderView>(window, [](const LadderView&) { return true; });
        return ladder != nullptr;
    }));
    ladder->choose({0, 1});
    EXPECT_EQ(window.place(), Window::Place::stair) << "arrows walk, and lead nowhere";
    ASSERT_TRUE(ladder->keyPressed(juce::KeyPress(juce::KeyPress::returnKey)));
    EXPECT_EQ(window.place(), Window::Place::landing);
    const auto* inTake = find<LadderView>(window, [](const LadderView&) { return true; });
    ASSERT_NE(inTake, nullptr);
    EXPECT_EQ(inTake->chosen(), (CellPlace{0, 1}));
}

TEST(WindowFits, TheWindowStaysOnItsDisplay) {
    for (const auto& [wide, high] : {std::pair{1366, 768}, std::pair{1920, 1080}, std::pair{3840, 2160}})
        for (const int percent : {100, 125, 150, 200, 250, 300}) {
            const WindowSize size = windowSizeFor(wide, high, percent);
            EXPECT_LE(size.width * size.scalePercent, wide * 100) << wide << " at " << percent;
            EXPECT_LE(size.height * size.scalePercent, high * 100) << wide << " at " << percent;
            EXPECT_GE(size.width, WindowSize::leastWidth);
            EXPECT_GE(size.height, WindowSize::leastHeight);
            EXPECT_LE(size.scalePercent, percent);
        }
    EXPECT_EQ(windowSizeFor(3840, 2160, 300).scalePercent, 300);
}

} // namespace valveladder
