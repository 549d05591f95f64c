// The Standalone: a window of our own around the plugin's, with the sound devices that the window chooses
// from.

#include "Plugin/Processor.h"
#include "Plugin/SoundDevices.h"
#include "View/PluginWords.h"

#include <juce_audio_devices/juce_audio_devices.h>
#include <juce_audio_processors/juce_audio_processors.h>
#include <juce_audio_utils/juce_audio_utils.h>

// JUCE's own code is not ours to judge.
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wall"
#pragma GCC diagnostic ignored "-Wextra"
#pragma GCC diagnostic ignored "-Wshadow"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#endif
#include <juce_audio_plugin_client/Standalone/juce_StandaloneFilterWindow.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

namespace valveladder {

namespace {

std::vector<std::string> textsOf(const juce::StringArray& names) {
    std::vector<std::string> texts;
    for (const juce::String& name : names)
        texts.push_back(name.toStdString());
    return texts;
}

/// JUCE's device manager, as the window asks for it.
class Devices final : public SoundDevices {
public:
    explicit Devices(juce::AudioDeviceManager& of) : manager(of) {}

    Choice systems() const override {
        Choice choice;
        for (const auto* type : types()) {
            if (type->getTypeName() == manager.getCurrentAudioDeviceType())
                choice.chosen = static_cast<int>(choice.names.size());
            choice.names.push_back(type->getTypeName().toStdString());
        }
        return choice;
    }
    Choice outputs() const override { return choiceOf(false); }
    Choice inputs() const override { return choiceOf(true); }

    std::vector<MidiInput> midiInputs() const override {
        std::vector<MidiInput> all;
        for (const auto& device : juce::MidiInput::getAvailableDevices())
            all.push_back({device.name.toStdString(), manager.isMidiInputDeviceEnabled(device.identifier)});
        return all;
    }

    Choice inputChannels() const override {
        const juce::StringArray names = channelNames();
        Choice choice;
        if (names.size() < 2)
            return choice;
        choice.names.push_back(words::mixedChannels);
        for (int i = 0; i < names.size(); ++i)
            choice.names.push_back((juce::String(i + 1) + ": " + names[i]).toStdString());
        const juce::BigInteger active = manager.getCurrentAudioDevice()->getActiveInputChannels();
        choice.chosen = active.countNumberOfSetBits() == 1 ? active.findNextSetBit(0) + 1 : 0;
        return choice;
    }

    Result<Done> chooseSystem(int index) override {
        const auto& all = types();
        if (index < 0 || index >= all.size())
            return Problem{words::noSuchDevice, words::soundDevice, words::chooseAnother};
        const juce::String before = manager.getCurrentAudioDeviceType();
        manager.setCurrentAudioDeviceType(all[index]->getTypeName(), true);
        if (manager.getCurrentAudioDevice() != nullptr)
            return Done{};
        const std::string wanted = all[index]->getTypeName().toStdString();
        manager.setCurrentAudioDeviceType(before, true);
        return Problem{words::noSoundBy, wanted, words::chooseAnother};
    }
    Result<Done> chooseOutput(int index) override { return choose(index, false); }
    Result<Done> chooseInput(int index) override { return choose(index, true); }

    Result<Done> chooseInputChannel(int index) override {
        if (index < 0 || index > channelNames().size())
            return Problem{words::noSuchDevice, words::soundDevice, words::chooseAnother};
        auto setup = manager.getAudioDeviceSetup();
        setup.useDefaultInputChannels = index == 0; // as many as the plugin hears
        setup.inputChannels.clear();
        if (index > 0)
            setup.inputChannels.setBit(index - 1);
        return use(setup, setup.inputDeviceName.toStdString());
    }

    void listenToMidi(int index, bool on) override {
        const auto all = juce::MidiInput::getAvailableDevices();
        if (index >= 0 && index < all.size())
            manager.setMidiInputDeviceEnabled(all[index].identifier, on);
    }

    void look() override {
        if (auto* type = manager.getCurrentDeviceTypeObject())
            type->scanForDevices();
    }

    std::string name() const override {
        const auto* device = manager.getCurrentAudioDevice();
        return device == nullptr ? "" : (device->getTypeName() + ": " + device->getName()).toStdString();
    }

private:
    const juce::OwnedArray<juce::AudioIODeviceType>& types() const {
        return manager.getAvailableDeviceTypes();
    }

    Choice choiceOf(bool input) const {
        Choice choice;
        if (auto* type = manager.getCurrentDeviceTypeObject()) {
            const juce::StringArray names = type->getDeviceNames(input);
            choice.names = textsOf(names);
            const auto setup = manager.getAudioDeviceSetup();
            choice.chosen = manager.getCurrentAudioDevice() == nullptr
                                ? -1
                                : names.indexOf(input ? setup.inputDeviceName : setup.outputDeviceName);
        }
        return choice;
    }

    Result<Done> choose(int index, bool input) {
        const Choice all = choiceOf(input);
        if (index < 0 || index >= static_cast<int>(all.names.size()))
            return Problem{words::noSuchDevice, words::soundDevice, words::chooseAnother};
        auto setup = manager.getAudioDeviceSetup();
        const std::string& name = all.names[static_cast<std::size_t>(index)];
        (input ? setup.inputDeviceName : setup.outputDeviceName) = juce::String::fromUTF8(name.c_str());
        (input ? setup.useDefaultInputChannels : setup.useDefaultOutputChannels) = true;
        return use(setup, name);
    }

    Result<Done> use(const juce::AudioDeviceManager::AudioDeviceSetup& setup, const std::string& name) {
        const juce::String error = manager.setAudioDeviceSetup(setup, true);
        if (error.isNotEmpty())
            return Problem{error.toStdString(), name, words::chooseAnother};
        return Done{};
    }

    juce::StringArray channelNames() const {
        auto* device = manager.getCurrentAudioDevice();
        return device == nullptr ? juce::StringArray() : device->getInputChannelNames();
    }

    juce::AudioDeviceManager& manager;
};

/// The program's window: the plugin's, in the system's own frame.
class Frame final : public juce::DocumentWindow {
public:
    explicit Frame(juce::PropertySet* settings)
        : DocumentWindow(words::programName, juce::Colours::black,
                         minimiseButton | maximiseButton | closeButton),
          holder(settings, false) {
        holder.getMuteInputValue().setValue(false); // nothing of the input goes to the output
        processor().useSoundDevices(&devices);
        setUsingNativeTitleBar(true);
        setContentOwned(holder.processor->createEditorIfNeeded(), true);
        setResizable(true, false);
        centreWithSize(getWidth(), getHeight());
    }
    ~Frame() override {
        clearContentComponent();
        holder.stopPlaying();
        processor().useSoundDevices(nullptr);
    }

    void keepState() { holder.savePluginState(); }

    void closeButtonPressed() override { juce::JUCEApplicationBase::getInstance()->systemRequestedQuit(); }

private:
    Processor& processor() { return static_cast<Processor&>(*holder.processor); }

    juce::StandalonePluginHolder holder;
    Devices devices{holder.deviceManager};
};

class App final : public juce::JUCEApplication {
public:
    App() {
        juce::PropertiesFile::Options options;
        options.applicationName = words::programName;
        options.filenameSuffix = ".settings";
        options.osxLibrarySubFolder = "Application Support";
#if JUCE_LINUX || JUCE_BSD
        options.folderName = "~/.config";
#endif
        settings.setStorageParameters(options);
    }

    const juce::String getApplicationName() override {
        return words::programName;
    }
    const juce::String getApplicationVersion() override {
        return JucePlugin_VersionString;
    }
    bool moreThanOneInstanceAllowed() override {
        return true;
    }

    void initialise(const juce::String&) override {
        frame = std::make_unique<Frame>(settings.getUserSettings());
        frame->setVisible(true);
    }
    void shutdown() override {
        frame.reset();
        settings.saveIfNeeded();
    }
    void systemRequestedQuit() override {
        if (frame)
            frame->keepState();
        quit();
    }

private:
    juce::ApplicationProperties settings;
    std::unique_ptr<Frame> frame;
};

} // namespace

} // namespace valveladder

// The one symbol that JUCE's own main() looks for.
juce::JUCEApplicationBase* juce_CreateApplication();

juce::JUCEApplicationBase* juce_CreateApplication() {
    return new valveladder::App();
}
