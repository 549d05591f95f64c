#pragma once

#include "Plugin/Processor.h"
#include "Screen/ExportView.h"
#include "Screen/FirstPlace.h"
#include "Screen/KeptSetups.h"
#include "Screen/KeyboardKeeper.h"
#include "Screen/LandingPlace.h"
#include "Screen/Look.h"
#include "Screen/NoteSheet.h"
#include "Screen/PartPlace.h"
#include "Screen/RungPlace.h"
#include "Screen/SetupChanges.h"
#include "Screen/SetupPlace.h"
#include "Screen/StairPlace.h"
#include "Screen/TakeSound.h"
#include "Screen/WindowBar.h"
#include "Screen/WindowFoot.h"
#include "Screen/WindowKeys.h"
#include "Screen/WindowMessages.h"
#include "Screen/WindowPlace.h"
#include "Screen/WindowScale.h"
#include "View/ShownTakes.h"
#include "View/SmoothClock.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace valveladder {

/// The plugin's window: places one keystroke apart, and the set-up. It puts together what each of its parts
/// is responsible for, and lays them out.
class Window final : public juce::AudioProcessorEditor,
                     public juce::FileDragAndDropTarget,
                     private juce::Timer {
public:
    using Place = WindowPlace;

    explicit Window(Processor& plugin);
    ~Window() override;

    void goTo(Place place);
    [[nodiscard]] Place place() const { return current; }

    /// Takes up what plugin, session and log say now; the window's own timer calls it once a frame.
    void refresh();

    void paint(juce::Graphics& g) override;
    void resized() override;
    void parentSizeChanged() override { scale.hostResized(); }
    bool keyPressed(const juce::KeyPress& key) override;
    void mouseDown(const juce::MouseEvent& event) override { keyboard.clicked(event); }
    std::unique_ptr<juce::ComponentTraverser> createKeyboardFocusTraverser() override {
        return KeyboardKeeper::traverser();
    }
    /// A part, a drill or a set-up dropped anywhere is opened.
    bool isInterestedInFileDrag(const juce::StringArray& files) override;
    void filesDropped(const juce::StringArray& files, int x, int y) override;

    /// Take and Weeks show an invented player from now on. The session goes on as it was, with the player's
    /// own log: a take that begins ends the look round.
    void startLookRound();
    /// Back to where it began.
    void endLookRound();
    [[nodiscard]] bool lookingRound() const { return takes.lookingRound(); }

private:
    void timerCallback() override { refresh(); }
    void buildEdges();
    void buildSetup();
    void buildPart();
    void buildFirst();
    void buildLookRound();
    [[nodiscard]] juce::Component& placeComponent();
    void layOutCard();
    void layOutNote();

    void followClock();
    [[nodiscard]] bool ownClockRuns() const { return owner.parameterSet().runOwnClock->get(); }
    void refreshTakes(const SessionView& view);
    void loadTakes();
    void refreshLookRound(const SessionView& view);
    void refreshInput();
    void refreshMessages(const SessionView& view);
    void tellWritten();
    void learn();
    [[nodiscard]] ClockReading clockNow() const;
    [[nodiscard]] PlayModel playNow(const SessionView& view);
    [[nodiscard]] InputSeen inputSeen() const;
    [[nodiscard]] PitchNames pitchNames() const; ///< of what is played
    [[nodiscard]] PitchNames namesOf(const LoadedTake& take) const;
    [[nodiscard]] PitchNames chosenTakeNames() const; ///< of the take that is looked at in Takes
    [[nodiscard]] PitchNames takeNames() const;       ///< of the takes that are shown
    void showNames();
    void forgetShownTakes();

    bool perform(WindowCommand command);
    void press(WindowCommand command);
    bool toggleDetails();
    [[nodiscard]] bool keysAreTheHosts() const;
    [[nodiscard]] Surroundings surroundings() const { return {inHost, !keysAreTheHosts()}; }
    void adopt(const SessionConfig& config);
    void take(SessionConfig config, std::optional<ParameterValues> parameters = {});
    void goBack(bool forward);
    /// Player, instrument or drill are replaced at once: said, with undo beside it.
    void replace(const SessionConfig& config, std::optional<ParameterValues> parameters = {});
    void takeDrill(const SessionConfig& config);
    void goOnAs(const LogPlayer& other);
    void again();
    void repeatRung();
    void correct(const CorrectionOffer& offer);
    void writeNote(const TakeSummary& take);
    /// While an invented player is looked at, says that nothing is made of their takes, and returns true.
    bool saidInvented();
    void leaveFirst();
    void apply(const Preferences& wanted);
    /// What the player wants of the window, kept.
    void prefer(const Preferences& wanted);

    Processor& owner;
    const bool inHost;
    Preferences preferences;
    Look look;
    PictureWriter pictures;
    PartReader partReader;
    SmoothClock smooth;
    ShownTakes takes;
    Place current = Place::rung;
    Place lookedFrom = Place::first;
    double inputLookedAt = 0.0; ///< seconds
    std::uint32_t pressesSeen = 0;
    bool clockRan = false; ///< our own, when it was last looked at

    WindowBar bar;
    WindowFoot foot;
    RungPlace rung;
    LandingPlace landing;
    StairPlace stair;
    PartPlace part;
    SetupPlace setup;
    FirstPlace first;
    WindowMessages messages;
    NoteSheet note;
    juce::TooltipWindow tooltips{this};

    WindowScale scale;
    KeyboardKeeper keyboard;
    SetupChanges changes;
    KeptSetups kept;
    TakeSound sound;
};

} // namespace valveladder
