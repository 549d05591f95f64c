#pragma once

#include "Plugin/Processor.h"
#include "Screen/Card.h"
#include "Screen/ExportView.h"
#include "Screen/FirstPlace.h"
#include "Screen/FootLine.h"
#include "Screen/LandingPlace.h"
#include "Screen/Look.h"
#include "Screen/PartPlace.h"
#include "Screen/RungPlace.h"
#include "Screen/SetupPlace.h"
#include "Screen/StairPlace.h"
#include "Screen/TakePlayer.h"
#include "Screen/WindowSize.h"
#include "Screen/WorkStrip.h"
#include "View/History.h"
#include "View/LookRound.h"
#include "View/Shelf.h"
#include "View/SmoothClock.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <deque>

namespace valveladder {

/// The plugin's window: places one keystroke apart, and the set-up.
class Window final : public juce::AudioProcessorEditor,
                     public juce::FileDragAndDropTarget,
                     private juce::Timer {
public:
    enum class Place { rung, landing, stair, setUp, part, first };

    explicit Window(Processor& plugin);
    ~Window() override;

    void goTo(Place place);
    [[nodiscard]] Place place() const { return current; }

    /// Takes up what plugin, session and log say now; the window's own timer calls it once a frame.
    void refresh();

    void paint(juce::Graphics& g) override;
    void resized() override;
    /// A host that gives more room gets the scale that is wanted.
    void parentSizeChanged() override;
    bool keyPressed(const juce::KeyPress& key) override;
    /// A click on empty space takes the keyboard out of a field, and gives it to none.
    void mouseDown(const juce::MouseEvent& event) override;
    std::unique_ptr<juce::ComponentTraverser> createKeyboardFocusTraverser() override;
    /// A part, a drill or a set-up dropped anywhere is opened.
    bool isInterestedInFileDrag(const juce::StringArray& files) override;
    void filesDropped(const juce::StringArray& files, int x, int y) override;
    [[nodiscard]] PartPlace& partPlace() { return part; }
    [[nodiscard]] SetupPlace& setupPlace() { return setup; }
    [[nodiscard]] FirstPlace& firstPlace() { return first; }

    /// Take and Weeks show an invented player from now on. The session goes on as it was, with the player's
    /// own log: a take that begins ends the look round.
    void startLookRound();
    /// Back to where it began.
    void endLookRound();
    [[nodiscard]] bool lookingRound() const { return lookRound != nullptr; }

private:
    void timerCallback() override { refresh(); }
    void buildBar();
    void buildSetup();
    void buildPart();
    void buildFirst();
    void leaveFirst();
    void again();
    [[nodiscard]] Result<juce::File> midiFor(DawMidi what, const juce::File& folder) const;
    bool placeKey(juce::juce_wchar letter);
    bool historyKey(const juce::KeyPress& key);
    bool ownKey(const juce::KeyPress& key);
    /// A program that stands alone, and one that shows the window without saying what it is, have no keys of
    /// their own.
    [[nodiscard]] static bool isHosted(const Processor& plugin);
    [[nodiscard]] bool keysAreTheHosts() const;
    void keepKeyboard();
    /// What takes the keyboard is scrolled into sight, once.
    void followKeyboard();

    void refreshPlay(const SessionView& view);
    [[nodiscard]] PlayModel playNow(const SessionView& view);
    void refreshTakes();
    void buildLookRound();
    void refreshLookRound(const SessionView& view);
    void forgetShownTakes();
    /// While an invented player is looked at, says that nothing is made of their takes, and returns true.
    bool saidInvented();
    [[nodiscard]] std::shared_ptr<const Overview> overviewShown() const;
    [[nodiscard]] std::shared_ptr<const LoadedTake> takeShown(const std::string& id);
    [[nodiscard]] double plannedShown(const SessionView& view) const;
    void refreshLog(const SessionView& view);
    void refreshResult(const SessionView& view);
    void refreshInput();
    [[nodiscard]] InputSeen inputSeen() const;
    void refreshMessages(const SessionView& view);
    void refreshSound();
    void refreshWork();
    void buildWork();
    void buildSound();
    void layOutFoot(juce::Rectangle<int> foot);
    void nameWhoPlays();
    [[nodiscard]] PlayStrip* soundStrip();
    [[nodiscard]] PitchNames pitchNames() const; ///< of what is played
    [[nodiscard]] PitchNames takeNames() const;  ///< of the takes that are shown
    void showNames();
    void playTake(int note);
    void playSides(int note);
    void repeatRung();
    void learn();

    void take(SessionConfig config);
    void adopt(const SessionConfig& config);
    void goBack(bool forward);
    void say(const Problem& problem);
    /// A card over the place's foot, until it is put away or another one comes; its words stay in Messages.
    void showCard(const CardContent& content, std::function<void()> action = {});
    void putCardAway();
    void layOutCard();
    /// Drill and tempo were replaced at the press of a button: said, with undo beside it.
    void takeDrill(SessionConfig config);
    void goOnAs(const OtherPlayer& other);
    void refreshTrouble(const SessionView& view);
    void writeNote(const TakeSummary& take);
    void correct(const CorrectionOffer& offer);
    void loadNext(const PracticeSession& next);
    void keepSetup(const std::string& name);
    /// `where` names it in what is said of it.
    void loadSetup(const Result<std::string>& text, const std::string& where);
    void setupFile(bool save);
    void readSetupFile(const juce::File& file);
    void exportPlace();
    void apply(const Preferences& preferences);
    void nameKeys();
    [[nodiscard]] juce::Component& placeComponent();
    /// What the player wants of the window, kept.
    void prefer(const Preferences& wanted);
    [[nodiscard]] WindowSize roomFor(int percent) const;
    [[nodiscard]] bool standsOutOfItsHost() const;
    /// Some hosts do not follow a window that grows: what they do not give is not asked for twice.
    void fitIntoHost();
    void takeFitted(const FittedSize& size);

    Processor& owner;
    Preferences preferences;
    Look look;
    Shelf shelf;
    LogReader reader;
    PictureWriter pictures;
    TakePlayer player;
    PartReader partReader;
    SmoothClock smooth;
    History<SessionConfig> history;
    SessionConfig shownConfig;
    std::shared_ptr<const Reviewed> reviewed; ///< what the overview was made from
    std::shared_ptr<const Overview> overview; ///< of the player's own log
    std::unique_ptr<LookRound> lookRound;     ///< while an invented player is looked at
    Place lookedFrom = Place::first;
    const juce::int64 openedUtc = juce::Time::currentTimeMillis();
    std::string resultSeen; ///< take whose result has been opened, or that was there before
    bool resultDue = false;
    double inputLookedAt = 0.0;           ///< seconds
    int percentInUse = 0;                 ///< of the scale that was asked of the host
    double scaleTaken = 1.0;              ///< less where the host did not follow
    std::optional<double> standsOutSince; ///< seconds
    std::uint32_t pressesSeen = 0;
    std::deque<SessionMessage> ownMessages; ///< what the window itself said, the newest last
    juce::String ownMessage;                ///< in the foot until the next change
    std::function<void()> cardAction;
    std::optional<Problem> troubleShown; ///< of the log: its card comes once

    juce::TextButton rungButton, landingButton, stairButton, partButton, setupButton, exportButton,
        messagesButton, backToOwn;
    juce::TextButton runClock, takeButton, repeatButton;
    juce::ButtonParameterAttachment clockAttachment;
    juce::Label whoPlays;
    LevelMeter level;
    FootLine lastMessage;
    WorkStrip work;
    RungPlace rung;
    LandingPlace landing;
    StairPlace stair;
    PartPlace part;
    SetupPlace setup;
    FirstPlace first;
    TextColumn messages;
    Card card;
    bool messagesShown = false;
    Place current = Place::rung;
    juce::TooltipWindow tooltips{this};
    juce::Component::SafePointer<juce::Component> followed; ///< had the keyboard in the frame before
    std::unique_ptr<juce::AlertWindow> noteWindow;
    std::unique_ptr<juce::FileChooser> chooser;
};

} // namespace valveladder
