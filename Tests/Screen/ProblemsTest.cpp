// Bad input as a player meets it: one look for every problem, whole, with what, where and what to do.

#include "Host/TempLog.h"
#include "Log/LogStore.h"
#include "Plugin/State.h"
#include "Screen/Card.h"
#include "Screen/Find.h"
#include "Screen/InventedLog.h"
#include "Screen/Snapshot.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <fstream>
#include <gtest/gtest.h>

namespace valveladder {

namespace {

using pictures::InventedLog;

void write(const std::filesystem::path& path, const std::string& text) {
    std::filesystem::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
}

/// The plugin in a home of its own, opened after the test has prepared it.
struct Desk {
    host::TempLog log;
    std::unique_ptr<Processor> plugin;
    std::unique_ptr<Window> window;

    void open() {
        EXPECT_TRUE(writePreferences(preferencesPath(), {.welcomed = true}));
        plugin = std::make_unique<Processor>();
        window = std::make_unique<Window>(*plugin);
        window->setSize(900, 600);
    }
    [[nodiscard]] Card* card(const juce::String& with) const {
        return find<Card>(*window, [&](const Card& each) {
            return (each.content().title + each.content().where + each.content().words).contains(with);
        });
    }
    [[nodiscard]] juce::String messages() const {
        const auto shown = [this] {
            return find<juce::TextEditor>(
                *window, [](const juce::TextEditor& each) { return each.getTitle() == words::messages; });
        };
        if (shown() == nullptr) {
            EXPECT_TRUE(window->keyPressed(juce::KeyPress('m', juce::ModifierKeys(), 'm')));
        }
        window->refresh();
        const auto* text = shown();
        return text == nullptr ? juce::String() : text->getText();
    }
};

/// It stands on the window whole, says all three, and names nothing that a player cannot do.
void expectWhole(const Desk& desk, const juce::String& with, const juce::String& where) {
    ASSERT_TRUE(pump(*desk.window, [&] { return desk.card(with) != nullptr; })) << with;
    Card* card = desk.card(with);
    const CardContent& said = card->content();
    EXPECT_TRUE(said.trouble);
    EXPECT_TRUE(said.title.isNotEmpty());
    EXPECT_TRUE(said.where.contains(where)) << said.where;
    EXPECT_TRUE(said.words.isNotEmpty());
    const juce::String all = said.title + " " + said.where + " " + said.words;
    for (const char* never : {"VALVE_LADDER", "--", "errno"})
        EXPECT_FALSE(all.contains(never)) << all;
    EXPECT_GE(card->getHeight(), card->heightFor(card->getWidth())) << all;
    EXPECT_TRUE(
        desk.window->getLocalBounds().contains(desk.window->getLocalArea(card, card->getLocalBounds())))
        << all;
    desk.window->refresh();
    pictures::save(pictures::render(*desk.window, 1.0F),
                   "problem-" + with.retainCharacters("abcdefghijklmnopqrstuvwxyz").toStdString());
    const juce::String kept = desk.messages();
    for (const juce::String& part : {said.title.dropLastCharacters(1), said.where})
        EXPECT_TRUE(kept.containsIgnoreCase(part)) << part << " is not in " << kept;
}

/// A card says who plays now, on what, and who did before; its button has that back.
void expectReplacedAndHadBack(Window& window, Processor& plugin, const SessionConfig& before) {
    const SessionConfig now = plugin.config();
    const Card* card = find<Card>(
        window, [](const Card& each) { return each.content().action == juce::String(words::undoHere); });
    ASSERT_NE(card, nullptr);
    const CardContent said = card->content();
    for (const std::string& name : {now.player, now.instrument.name, now.drill.name})
        EXPECT_TRUE(said.title.contains(toText(name))) << said.title;
    for (const std::string& name : {before.player, before.instrument.name, before.drill.name})
        EXPECT_TRUE(said.words.contains(toText(name))) << said.words;
    card->onAction();
    EXPECT_EQ(plugin.config(), before);
}

void putLogOfVersion(const std::filesystem::path& path, int version) {
    ASSERT_TRUE(LogStore::open(path));
    SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
    database.exec("PRAGMA user_version = " + std::to_string(version));
}

} // namespace

TEST(WindowProblems, ADamagedLogIsToldWhole) {
    Desk desk;
    write(desk.log.log(), std::string(8192, 'x'));
    desk.open();
    expectWhole(desk, "damaged", "log.sqlite");
    desk.window->goTo(Window::Place::landing);
    expectWhole(desk, "damaged", "log.sqlite");
}

TEST(WindowProblems, ANewerLogIsToldWhole) {
    Desk desk;
    putLogOfVersion(desk.log.log(), LogStore::schemaVersion + 1);
    desk.open();
    expectWhole(desk, "newer version", "log.sqlite");
}

TEST(WindowProblems, AnotherProgramsDatabaseIsToldWhole) {
    Desk desk;
    {
        SQLite::Database other(desk.log.log().string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
        other.exec("PRAGMA application_id = 7; CREATE TABLE songs (name TEXT)");
    }
    desk.open();
    expectWhole(desk, "another program", "log.sqlite");
}

TEST(WindowProblems, AFolderThatCannotBeWrittenIsToldWhole) {
    Desk desk;
    const std::filesystem::path nowhere = "/proc/valve ladder/log.sqlite"; // nobody can make folders there
    host::setEnvironment("VALVE_LADDER_LOG", nowhere.string());
    desk.plugin = std::make_unique<Processor>();
    desk.window = std::make_unique<Window>(*desk.plugin);
    desk.window->setSize(900, 600);
    expectWhole(desk, "folder", "/proc/valve ladder");
}

TEST(WindowProblems, BrokenPartsAreCalledByTheirKind) {
    struct Broken {
        const char* name;
        std::string text;
        const char* kind;
    };
    const std::vector<Broken> all{{"broken.mid", "MThd\0\0\0\6", "header"},
                                  {"notes.mid", "these are no notes", "Standard MIDI File"},
                                  {"empty.mid", "", "Standard MIDI File"},
                                  {"broken.musicxml", "<score-partwise><part>", "XML"},
                                  {"picture.musicxml", "\x89PNG\r\n", "neither a MusicXML nor a MIDI file"}};
    for (const Broken& broken : all) {
        Desk desk;
        write(desk.log.folder() / broken.name, broken.text);
        desk.open();
        desk.window->filesDropped({juce::String((desk.log.folder() / broken.name).string())}, 0, 0);
        ASSERT_TRUE(pump(*desk.window, [&] { return desk.card(broken.name) != nullptr; })) << broken.name;
        const CardContent said = desk.card(broken.name)->content();
        EXPECT_TRUE(said.title.contains(broken.kind)) << said.title;
        EXPECT_EQ(said.title.contains("XML"), juce::String(broken.name).endsWith("xml")) << said.title;
        expectWhole(desk, broken.name, broken.name);
    }
}

TEST(WindowProblems, BrokenDrillsAndSetUpsAreToldWithTheirFile) {
    for (const char* name : {"broken.json", "broken.valveladder"}) {
        Desk desk;
        write(desk.log.folder() / name, "{\"notes\": [");
        desk.open();
        desk.window->filesDropped({juce::String((desk.log.folder() / name).string())}, 0, 0);
        expectWhole(desk, name, name);
    }
}

TEST(WindowProblems, ALogOfOthersAloneSaysSoAndGoesOnAsThem) {
    const InventedLog invented;
    EXPECT_TRUE(writePreferences(preferencesPath(), {.welcomed = true}));
    Processor plugin;
    Window window(plugin);
    window.goTo(Window::Place::landing);
    Card* card = nullptr;
    ASSERT_TRUE(pump(window, [&] {
        card = find<Card>(window, [](const Card& each) { return each.content().action.isNotEmpty(); });
        return card != nullptr;
    }));
    EXPECT_TRUE(card->content().words.contains(InventedLog::player)) << card->content().words;
    EXPECT_TRUE(card->content().words.contains(" invented)")) << card->content().words;
    const SessionConfig before = plugin.config();
    card->onAction();
    EXPECT_EQ(plugin.config().player, InventedLog::player);
    EXPECT_EQ(plugin.config().instrument.id, invented.instrument().id);
    EXPECT_TRUE(pump(window, [&] {
        const auto* landing = find<LandingPlace>(window, [](const LandingPlace&) { return true; });
        return landing != nullptr && landing->take() != nullptr;
    }));
    expectReplacedAndHadBack(window, plugin, before);
}

TEST(WindowProblems, AKeptSetUpThatReplacesThePlayerIsSaidAndCanBeHadBackInPlace) {
    Desk desk;
    desk.open();
    const SessionConfig before = desk.plugin->config();
    SessionConfig kept = before;
    kept.player = "Bo";
    kept.instrument = *findInstrument("tuba-b-flat-4");
    kept.drill = defaultDrill(kept.instrument);
    const auto file = desk.log.folder() / "bo.valveladder";
    juce::AudioParameterFloat& level = *desk.plugin->parameterSet().clickLevel;
    level = -30.0F;
    write(file, toStateText({kept, desk.plugin->parameterSet().values()}));
    level = -12.0F;
    desk.window->filesDropped({juce::String(file.string())}, 0, 0);
    ASSERT_EQ(desk.plugin->config(), kept);
    EXPECT_NEAR(level.get(), -30.0F, 0.1F);
    expectReplacedAndHadBack(*desk.window, *desk.plugin, before);
    EXPECT_NEAR(level.get(), -12.0F, 0.1F) << "levels are of the same step";
    level = -18.0F; // by itself no step
    ASSERT_TRUE(desk.window->keyPressed(
        juce::KeyPress('z', juce::ModifierKeys::commandModifier | juce::ModifierKeys::shiftModifier, 'z')));
    EXPECT_EQ(desk.plugin->config(), kept);
    EXPECT_NEAR(level.get(), -30.0F, 0.1F);
    ASSERT_TRUE(desk.window->keyPressed(juce::KeyPress('z', juce::ModifierKeys::commandModifier, 'z')));
    EXPECT_NEAR(level.get(), -18.0F, 0.1F);
}

TEST(WindowProblems, AReplacedDrillIsSaidAndCanBeHadBackInPlace) {
    Desk desk;
    desk.open();
    const SessionConfig before = desk.plugin->config();
    desk.window->filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
    PartPlace& part = theOne<PartPlace>(*desk.window);
    ASSERT_TRUE(pump(*desk.window, [&] { return theOne<PartList>(part).chosen() == 0; }));
    part.drillFromSpot();
    EXPECT_NE(desk.plugin->config().drill, before.drill);
    Card* card = desk.card(toText(desk.plugin->config().drill.name));
    ASSERT_NE(card, nullptr);
    EXPECT_TRUE(card->content().words.contains(toText(before.drill.name)));
    EXPECT_EQ(card->content().action, juce::String(words::undoHere));
    desk.window->goTo(Window::Place::setUp);
    theOne<SetupPlace>(*desk.window).panel().unfoldAll(true);
    ASSERT_TRUE(pump(*desk.window, [&] {
        return desk.plugin->session().view()->setup->config.drill == desk.plugin->config().drill;
    }));
    for (const char* field : {words::footField, words::firstTopField, words::lastTopField}) {
        const auto* box = find<juce::ComboBox>(
            *desk.window, [&](const juce::ComboBox& each) { return each.getTitle() == field; });
        ASSERT_NE(box, nullptr) << field;
        EXPECT_TRUE(box->getText().isNotEmpty()) << field << " is blank";
    }
    card->onAction();
    EXPECT_EQ(desk.plugin->config().drill, before.drill);
    EXPECT_EQ(desk.plugin->config().rules, before.rules);
}

TEST(WindowProblems, TheDailyDrillIsOneButtonAwayFromASpotHoweverLongAgoItWasPutAside) {
    Desk desk;
    desk.open();
    const auto daily = [&] { return buttonCalled(*desk.window, words::dailyDrill); };
    SessionConfig before = desk.plugin->config();
    before.rules.startBpm = 71.0;
    before.drill.name = "Mine";
    ASSERT_TRUE(desk.plugin->setConfig(before));
    ASSERT_TRUE(pump(*desk.window, [&] { return desk.plugin->session().view()->setup->config == before; }));
    desk.window->filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
    PartPlace& part = theOne<PartPlace>(*desk.window);
    ASSERT_TRUE(pump(*desk.window, [&] { return theOne<PartList>(part).chosen() == 0; }));
    desk.window->goTo(Window::Place::rung);
    EXPECT_EQ(daily(), nullptr);
    part.drillFromSpot();
    part.drillFromSpot(); // of one spot and then another
    // Closed and opened again.
    juce::MemoryBlock state;
    desk.plugin->getStateInformation(state);
    desk.window = nullptr;
    desk.open();
    desk.plugin->setStateInformation(state.getData(), static_cast<int>(state.getSize()));
    desk.window->goTo(Window::Place::rung);
    ASSERT_TRUE(pump(*desk.window, [&] { return daily() != nullptr; }));
    daily()->onClick();
    EXPECT_EQ(desk.plugin->config(), before);
    Card* card = desk.card("Mine");
    ASSERT_NE(card, nullptr) << "what replaces a drill says so";
    ASSERT_TRUE(pump(*desk.window, [&] { return daily() == nullptr; }));
    desk.plugin->pressStart();
    ASSERT_TRUE(pump(*desk.window, [&] { return !card->isVisible(); }))
        << "and lies over nothing that is played";
}

TEST(WindowProblems, WordsBreakWithinTheWidthAndNoneIsLost) {
    const juce::Font font = plainFont(16.0F);
    const juce::String text = "The log is damaged: /home/somebody/with a long/" +
                              juce::String::repeatedString("x", 200) +
                              "/log.sqlite. Move the file to another folder.";
    for (const float width : {60.0F, 200.0F, 333.0F, 2000.0F}) {
        juce::String all;
        for (const juce::String& line : wrapped(text, font, width)) {
            EXPECT_LE(textWidth(font, line), width) << line;
            all << line;
        }
        EXPECT_EQ(all.removeCharacters(" "), text.removeCharacters(" "));
    }
}

} // namespace valveladder
