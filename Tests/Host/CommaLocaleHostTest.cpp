// The plugin in a process whose locale writes numbers with a comma, as hosts set it: what it keeps, logs and
// reads is what it is without.
#include "Host/HostRig.h"
#include "Host/TempLog.h"
#include "Log/LogStore.h"
#include "Screen/Find.h"
#include "Screen/Window.h"
#include "Screen/Within.h"
#include "Support/CommaLocale.h"
#include "Tempo/TempoMap.h"
#include "View/PluginWords.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <optional>

namespace valveladder::host {

namespace {

using testing::CommaLocale;

constexpr double rate = 48000.0;
constexpr int blockSamples = 512;
constexpr double ownBpm = 92.5;
constexpr double playedSeconds = 20.0;
constexpr int playerChannel = 2;

juce::AudioProcessorParameter& parameter(HostRig& rig, const char* name) {
    for (auto* each : rig.plugin().getParameters())
        if (each->getName(64) == name)
            return *each;
    ADD_FAILURE() << "the plugin has no parameter " << name;
    return *rig.plugin().getParameters()[0];
}

float ownTempoAsShare() {
    return static_cast<float>((ownBpm - minBpm) / (maxBpm - minBpm));
}

/// A JUCE host keeps a VST3's state as XML around the plugin's own bytes; empty where it is none.
std::string vst3StateText(const juce::MemoryBlock& state) {
    const auto xml =
        juce::AudioProcessor::getXmlFromBinary(state.getData(), static_cast<int>(state.getSize()));
    const auto* component = xml != nullptr ? xml->getChildByName("IComponent") : nullptr;
    juce::MemoryBlock bytes;
    if (component == nullptr || !bytes.fromBase64Encoding(component->getAllSubText()))
        return "";
    return {static_cast<const char*>(bytes.getData()), bytes.getSize()};
}

/// What the guide plays in one block comes back in the next, as by a player who is never wrong.
void playAlong(HostRig& rig, double seconds) {
    juce::MidiBuffer played;
    for (auto left = static_cast<std::int64_t>(seconds * rate); left > 0; left -= blockSamples) {
        const std::size_t before = rig.sent().size();
        const std::int64_t start = rig.told().empty() ? 0 : rig.told().back().startSample + blockSamples;
        rig.run(blockSamples, played);
        played.clear();
        for (std::size_t i = before; i < rig.sent().size(); ++i) {
            const MidiEvent& event = rig.sent()[i].event;
            const int at = static_cast<int>(rig.sent()[i].sample - start);
            if (event.channel() == 1 && event.isNoteOn())
                played.addEvent(juce::MidiMessage::noteOn(playerChannel, event.bytes[1], 0.5F), at);
            else if (event.channel() == 1 && event.isNoteOff())
                played.addEvent(juce::MidiMessage::noteOff(playerChannel, event.bytes[1]), at);
        }
    }
}

std::optional<TakeRecord> firstTake(const std::filesystem::path& log) {
    std::optional<TakeRecord> first;
    const bool came = eventually([&] {
        if (const auto store = LogStore::openReadOnly(log); store.ok())
            if (const auto takes = store.value()->takes({}); takes.ok() && !takes.value().empty())
                first = store.value()->take(takes.value().front().header.id).value();
        return first.has_value();
    });
    EXPECT_TRUE(came) << "no take came into the log";
    return first;
}

/// What the plugin kept of a take by its own clock at a tempo of its own, and its state after that.
struct Kept {
    TakeRecord take;
    float tempoRestored = 0.0F; ///< of another instance that was given the state, as a share of its range
    std::string stateText;      ///< of the VST3
    juce::String tempoText;     ///< as the host shows it
};

Kept keptBy(Format format) {
    const TempLog log;
    std::string error;
    const auto rig = HostRig::load(format, rate, blockSamples, error);
    EXPECT_NE(rig, nullptr) << error;
    if (rig == nullptr)
        return {};
    parameter(*rig, words::ownTempoParameter).setValueNotifyingHost(ownTempoAsShare());
    parameter(*rig, words::tempoFromParameter).setValueNotifyingHost(1.0F);
    parameter(*rig, words::ownClockParameter).setValueNotifyingHost(1.0F);
    playAlong(*rig, playedSeconds);
    parameter(*rig, words::ownClockParameter).setValueNotifyingHost(0.0F);
    playAlong(*rig, 1.0);

    Kept kept;
    kept.take = firstTake(log.log()).value_or(TakeRecord{});
    juce::MemoryBlock state;
    rig->plugin().getStateInformation(state);
    kept.stateText = vst3StateText(state);
    kept.tempoText = parameter(*rig, words::ownTempoParameter).getText(ownTempoAsShare(), 64);
    const auto other = HostRig::load(format, rate, blockSamples, error);
    other->plugin().setStateInformation(state.getData(), static_cast<int>(state.getSize()));
    other->run(blockSamples); // a host hears of restored parameters with the next block
    kept.tempoRestored = parameter(*other, words::ownTempoParameter).getValue();
    return kept;
}

/// All but what no two takes have in common.
TakeRecord withoutTimes(TakeRecord take) {
    take.header.id.clear();
    take.header.machine.clear();
    take.header.startedUtc = take.endedUtc = 0;
    return take;
}

class CommaLocaleHosted : public ::testing::TestWithParam<Format> {};

/// A part at 92.5, what the window makes of it once it is dropped there, and the drill of its first spot.
struct Dropped {
    Part line;
    SessionConfig config;
    std::string marked; ///< the part with its marks, as MusicXML
};

std::string textOf(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

Dropped dropped() {
    const TempLog log;
    std::string text = textOf(VALVE_LADDER_STUDY);
    const std::string written = "tempo=\"180\"";
    text.replace(text.find(written), written.size(), "tempo=\"92.5\"");
    const auto path = log.folder() / "study.musicxml";
    std::ofstream(path, std::ios::binary) << text;

    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_VST3);
    Processor plugin;
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
    plugin.setRateAndBufferSizeDetails(rate, blockSamples);
    plugin.prepareToPlay(rate, blockSamples);
    Dropped result;
    {
        Window window(plugin);
        window.filesDropped({juce::String(path.string())}, 0, 0);
        EXPECT_TRUE(eventually([&] {
            window.refresh();
            return theOne<PartPlace>(window).part() != nullptr;
        }));
        if (const OpenedPart* part = theOne<PartPlace>(window).part())
            result.line = part->line;
        theOne<PartPlace>(window).drillFromSpot();
        result.config = plugin.config();
        const auto marked = log.folder() / "marked.musicxml";
        EXPECT_TRUE(theOne<PartPlace>(window).writeMarked(juce::File(marked.string())));
        result.marked = textOf(marked);
    }
    plugin.releaseResources();
    return result;
}

} // namespace

TEST_P(CommaLocaleHosted, TempoStateAndLogAreWhatTheyAreWithout) {
    if (!std::filesystem::exists(builtPlugin(GetParam())))
        GTEST_SKIP() << "this build has no " << builtPlugin(GetParam());
    const Kept without = keptBy(GetParam());
    const CommaLocale comma;
    const Kept with = keptBy(GetParam());
    EXPECT_NEAR(with.take.playedBpm, ownBpm, 1e-3);
    EXPECT_GT(with.take.performance.notes.size(), 10U);
    EXPECT_EQ(withoutTimes(with.take), withoutTimes(without.take));
    EXPECT_NEAR(with.tempoRestored, ownTempoAsShare(), 1e-6F);
    EXPECT_EQ(with.stateText, without.stateText);
    if (GetParam() == Format::vst3) {
        EXPECT_NE(with.stateText.find("\"own-tempo\": 92.5"), std::string::npos) << with.stateText;
        EXPECT_EQ(with.tempoText, "92.5"); // an LV2 host writes its own text
    }
}

INSTANTIATE_TEST_SUITE_P(CommaLocaleHost, CommaLocaleHosted, ::testing::Values(Format::vst3, Format::lv2),
                         [](const auto& made) { return made.param == Format::vst3 ? "Vst3" : "Lv2"; });

TEST(CommaLocaleWindow, DroppedPartKeepsItsTempoAndMakesTheSameDrill) {
    const Dropped without = dropped();
    ASSERT_DOUBLE_EQ(without.line.bpmAt(0), 92.5);
    const CommaLocale comma;
    const Dropped with = dropped();
    EXPECT_DOUBLE_EQ(with.line.bpmAt(0), 92.5);
    EXPECT_EQ(with.line.notes, without.line.notes);
    EXPECT_NE(with.config.drill, SessionConfig{}.drill);
    EXPECT_EQ(with.config, without.config);
    EXPECT_EQ(with.marked, without.marked);
    EXPECT_NE(with.marked.find("92.5"), std::string::npos);
}

} // namespace valveladder::host
