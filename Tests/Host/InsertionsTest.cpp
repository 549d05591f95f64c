// A plugin added to a session that rolls, and taken away again, as DAWs do it: made, given its state,
// prepared and destroyed on one thread, run in small blocks on another with a stack as small as hosts give,
// while JUCE's messages come on a third and other instances use the same log.

#include "Host/MessageQueue.h"
#include "Host/TempLog.h"
#include "Log/LogStore.h"
#include "Plugin/Processor.h"
#include "Plugin/State.h"

#include <gtest/gtest.h>

#include <pthread.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <barrier>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>

namespace valveladder::host {

namespace {

constexpr double rate = 44100.0;
constexpr int blockSamples = 16;
/// About what it lasts; a pause that leaves the machine to others.
constexpr std::chrono::microseconds aBlock{350};

int insertions() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr ? 300 : 60;
}

/// A transport that rolls and records.
class Rolling final : public juce::AudioPlayHead {
public:
    juce::Optional<PositionInfo> getPosition() const override {
        PositionInfo now;
        now.setIsPlaying(true);
        now.setIsRecording(true);
        now.setBpm(200.0);
        now.setPpqPosition(static_cast<double>(samples.load()) * 200.0 / 60.0 / rate);
        return now;
    }
    std::atomic<std::int64_t> samples{0};
};

/// A thread with 128 KiB of stack beside what the system itself needs of it: Ardour gives its audio threads
/// no more.
class AudioThread {
public:
    explicit AudioThread(std::function<void()> work) : body(std::move(work)) {
#if defined(__SANITIZE_ADDRESS__)
        constexpr std::size_t room = std::size_t{1} << 20U; // it widens every frame
#else
        constexpr std::size_t room = std::size_t{128} << 10U;
#endif
        pthread_attr_t attributes;
        pthread_attr_init(&attributes);
        pthread_attr_setstacksize(&attributes,
                                  room + static_cast<std::size_t>(sysconf(_SC_THREAD_STACK_MIN)));
        const auto run = [](void* self) -> void* {
            static_cast<AudioThread*>(self)->body();
            return nullptr;
        };
        made = pthread_create(&thread, &attributes, run, this) == 0;
        pthread_attr_destroy(&attributes);
    }
    ~AudioThread() {
        if (made)
            pthread_join(thread, nullptr);
    }
    AudioThread(const AudioThread&) = delete;
    AudioThread& operator=(const AudioThread&) = delete;
    [[nodiscard]] bool runs() const {
        return made;
    }

private:
    std::function<void()> body;
    pthread_t thread{};
    bool made = false;
};

/// Where the audio thread finds a plugin to run. While it runs one, none is put in or taken out.
class Slot {
public:
    void put(Processor* next) {
        const std::lock_guard lock(mutex);
        plugin = next;
        blocks = 0;
    }
    void run(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) {
        const std::lock_guard lock(mutex);
        if (plugin == nullptr)
            return;
        midi.clear();
        midi.addEvent(juce::MidiMessage::noteOn(1, 60, 0.7F), 3);
        plugin->processBlock(audio, midi);
        ++blocks;
    }
    void waitFor(int wanted) const {
        while (blocks < wanted)
            std::this_thread::sleep_for(aBlock);
    }

private:
    std::mutex mutex;
    Processor* plugin = nullptr;
    std::atomic<int> blocks{0};
};

juce::MemoryBlock stateOf(const std::string& player) {
    PluginState state;
    state.config.player = player;
    state.config.pedals.start = {-1, 64};
    state.config.keepSound.on = true;
    const std::string text = toStateText(state);
    return {text.data(), text.size()};
}

class Insertions : public testing::Test {
protected:
    static constexpr int slotCount = 3;

    /// What a DAW's own thread does to one plugin.
    void insert(int number) {
        Slot& slot = slots[static_cast<std::size_t>(number % slotCount)];
        auto& owner = plugins[static_cast<std::size_t>(number % slotCount)];
        slot.put(nullptr);
        owner.reset();
        juce::AudioProcessor::setTypeOfNextNewPlugin(
            number % 2 == 0 ? juce::AudioProcessor::wrapperType_LV2 : juce::AudioProcessor::wrapperType_VST3);
        owner = std::make_unique<Processor>();
        juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
        owner->setPlayHead(&transport);
        const auto state = stateOf("Invented " + std::to_string(number % 5));
        const auto restore = [&] {
            owner->setStateInformation(state.getData(), static_cast<int>(state.getSize()));
        };
        const auto prepare = [&] {
            owner->setRateAndBufferSizeDetails(rate, blockSamples);
            owner->prepareToPlay(rate, blockSamples);
        };
        if (number % 4 == 0)
            restore(); // before it is activated
        prepare();
        if (number % 4 == 1)
            restore();
        slot.put(owner.get());
        if (number % 4 == 2)
            restore(); // while it runs
        slot.waitFor(number * 7 % 50);
        if (number % 4 != 3)
            return;
        slot.put(nullptr);
        owner->releaseResources();
        prepare();
        slot.put(owner.get());
        slot.waitFor(3);
    }

    void runAudio() {
        juce::AudioBuffer<float> audio(2, blockSamples);
        juce::MidiBuffer midi;
        while (!over) {
            for (Slot& slot : slots) {
                audio.clear();
                slot.run(audio, midi);
            }
            transport.samples += blockSamples;
            std::this_thread::sleep_for(aBlock);
        }
    }

    TempLog log;
    Rolling transport;
    std::array<Slot, slotCount> slots;
    std::array<std::unique_ptr<Processor>, slotCount> plugins;
    std::atomic<bool> over{false};
};

} // namespace

TEST_F(Insertions, PluginsComeAndGoWhileOthersRunAndTheLogIsWhole) {
    std::atomic<bool> inserted{false};
    {
        const AudioThread audio([this] { runAudio(); });
        ASSERT_TRUE(audio.runs());
        std::thread host([&] {
            for (int i = 0; i < insertions(); ++i)
                insert(i);
            for (std::size_t i = 0; i < slots.size(); ++i) {
                slots[i].put(nullptr);
                plugins[i].reset();
            }
            inserted = true;
        });
        while (!inserted)
            if (!juce::dispatchNextMessageOnSystemQueue(true))
                std::this_thread::sleep_for(aBlock);
        host.join();
        over = true;
    }
    const auto kept = LogStore::openReadOnly(log.log());
    EXPECT_TRUE(kept) << (kept ? "" : kept.problem().text());
}

TEST_F(Insertions, WindowHostAndStateMayComeAtOnce) {
    const auto state = stateOf("Restored");
    const std::string broken = "no state";
    for (int i = 0; i < 20; ++i) {
        Processor plugin;
        std::barrier together(4);
        const auto beside = [&](const std::function<void()>& call) {
            return std::thread([&together, call] {
                together.arrive_and_wait();
                call();
            });
        };
        std::thread window = beside([&] { plugin.startedWorker(); });
        std::thread restored =
            beside([&] { plugin.setStateInformation(state.getData(), static_cast<int>(state.getSize())); });
        std::thread refused =
            beside([&] { plugin.setStateInformation(broken.data(), static_cast<int>(broken.size())); });
        together.arrive_and_wait();
        plugin.setRateAndBufferSizeDetails(rate, blockSamples);
        plugin.prepareToPlay(rate, blockSamples);
        for (std::thread* each : {&window, &restored, &refused})
            each->join();
        std::string player;
        bool told = false;
        plugin.startedWorker().runOnSession([&](const Session& session) {
            player = session.setup()->config.player;
            for (const auto& message : session.view().messages)
                told = told || message.trouble;
        });
        EXPECT_EQ(player, "Restored") << "the session has what the plugin was set to";
        EXPECT_EQ(plugin.config().player, "Restored");
        EXPECT_TRUE(told) << "that a state was refused";
    }
}

} // namespace valveladder::host
