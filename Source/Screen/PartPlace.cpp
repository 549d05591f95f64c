#include "Screen/PartPlace.h"

#include "Base/Path.h"
#include "Files/FileKinds.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"
#include "Words/PartWords.h"

namespace valveladder {

namespace {

constexpr int dawHeadingHeight = 34;
constexpr int leastNotesHeight = 84; // heading and two lines
constexpr int wideMusic = 1000;      ///< from this width on the remarks stand beside the spots
constexpr int widestList = 960;
constexpr int widestButton = 320;
constexpr std::array<DawMidi, 3> dawKinds{DawMidi::guide, DawMidi::tempoMap, DawMidi::backing};

} // namespace

void DragButton::mouseDown(const juce::MouseEvent& event) {
    dragged = false;
    juce::TextButton::mouseDown(event);
}

void DragButton::mouseDrag(const juce::MouseEvent& event) {
    if (dragged)
        return;
    juce::TextButton::mouseDrag(event);
    if (!event.mouseWasDraggedSinceMouseDown())
        return;
    dragged = true;
    setState(juce::Button::buttonNormal); // what follows is no click
    if (onDrag)
        onDrag();
}

PartPlace::PartPlace(PartReader& partReader, bool hosted)
    : reader(partReader), inHost(hosted), notes(words::partRemarks) {
    setTitle(words::partPlaceSaid);
    setFocusContainerType(FocusContainerType::focusContainer);
    setOpaque(true);
    openButton.setButtonText(words::openPart);
    openButton.setTooltip(words::openPartHelp);
    openButton.onClick = [this] { chooseFile(); };
    drillButton.setButtonText(words::drillFromSpot);
    drillButton.setTooltip(words::drillFromSpotHelp);
    drillButton.onClick = [this] { drillFromSpot(); };
    xmlButton.setButtonText(words::writeMarkedPart);
    xmlButton.setTooltip(words::writeMarkedPartHelp);
    midiButton.setButtonText(words::writeMarkedMidi);
    midiButton.setTooltip(words::writeMarkedMidiHelp);
    xmlButton.onClick = [this] {
        chooseTarget(words::markedPartName, "*.musicxml;*.mxl",
                     [this](const juce::File& file) { tell(writeMarked(file)); });
    };
    midiButton.onClick = [this] {
        chooseTarget(words::markedMidiName, "*.mid",
                     [this](const juce::File& file) { tell(writeMarked(file)); });
    };
    list.onChoice = [this] { spotChosen(); };
    list.onTaken = [this] { drillFromSpot(); };
    buildChoices();
    buildMidi();
    for (juce::Component* each :
         std::initializer_list<juce::Component*>{&ladder, &openButton, &choices, &list, &bars, &notes,
                                                 &drillButton, &xmlButton, &midiButton, &card})
        addAndMakeVisible(each);
    refresh();
    spotChosen();
}

void PartPlace::buildChoices() {
    chords.addItemList({words::highestOfChords, words::lowestOfChords}, 1);
    chords.setSelectedItemIndex(0, juce::dontSendNotification);
    repeats.setToggleState(true, juce::dontSendNotification);
    graces.setToggleState(true, juce::dontSendNotification);
    repeats.setButtonText(words::repeatsPlayed);
    graces.setButtonText(words::gracesKept);
    choices.add(words::partField, words::partFieldHelp, parts);
    choices.add(words::voiceField, words::voiceFieldHelp, voices);
    choices.add(words::chordsField, words::chordsFieldHelp, chords);
    choices.add(words::repeatsField, words::repeatsFieldHelp, repeats);
    choices.add(words::gracesField, words::gracesFieldHelp, graces);
    parts.onChange = [this] {
        request.choice.voice.clear();
        choiceChanged();
    };
    voices.onChange = chords.onChange = [this] { choiceChanged(); };
    repeats.onClick = graces.onClick = [this] { choiceChanged(); };
}

const char* PartPlace::midiHeading() const {
    return inHost ? words::dawHeading : words::midiHeading;
}

void PartPlace::buildMidi() {
    constexpr std::array<const char*, 3> texts{words::dawGuide, words::dawTempoMap, words::dawBacking};
    for (std::size_t i = 0; i < dawButtons.size(); ++i) {
        dawButtons[i].setButtonText(texts[i]);
        dawButtons[i].setTitle(juce::String(midiHeading()) + ": " + texts[i]);
        dawButtons[i].setTooltip((inHost ? words::dawHelps : words::midiHelps)[i]);
        dawButtons[i].onClick = [this, what = dawKinds[i]] { exportMidi(what); };
        dawButtons[i].onDrag = [this, what = dawKinds[i]] { dragMidi(what); };
        addAndMakeVisible(dawButtons[i]);
    }
}

bool PartPlace::opens(const juce::String& path) {
    const std::filesystem::path file = pathOf(path.toStdString());
    return hasMusicXmlName(file) || hasSmfName(file);
}

void PartPlace::open(const std::filesystem::path& file) {
    request.file = file;
    request.choice = {};
    request.choice.part = -1;
    ask();
}

void PartPlace::playFor(const std::string& player, const Instrument& instrument) {
    if (request.player == player && request.instrument == instrument)
        return;
    request.player = player;
    request.instrument = instrument;
    ask();
}

void PartPlace::ask() {
    if (request.file.empty())
        return;
    reader.want(request);
    showState();
}

void PartPlace::logChanged() {
    ask();
}

juce::String PartPlace::title() const {
    if (!shown || !shown->file)
        return words::partPlaceTitle;
    return toText(shown->file->title().empty() ? pathText(request.file.filename()) : shown->file->title());
}

std::optional<CardContent> PartPlace::state() const {
    CardContent content;
    content.closes = false;
    if (!shown) {
        content.title = reader.busy() ? words::readingPart : words::noPartTitle;
        content.words = reader.busy() ? "" : words::noPart;
        return content;
    }
    if (shown->problem) {
        content = cardOf(*shown->problem);
        content.closes = false;
        return content;
    }
    if (!shown->spots.empty())
        return std::nullopt;
    content.title = words::noSpotsTitle;
    content.words = toText(words::noSpots(leastSpotCost));
    return content;
}

void PartPlace::showState() {
    const auto content = state();
    card.setVisible(content.has_value());
    if (content)
        card.show(*content);
    layOutCard();
    setDescription(title());
    repaint();
}

void PartPlace::layOutCard() {
    const int width = juce::jmin(Card::widest, heading.getWidth());
    card.setBounds(heading.getX(), heading.getBottom() + grid::gutter, width, card.heightFor(width));
}

void PartPlace::choiceChanged() {
    if (filling || !shown || !shown->file)
        return;
    request.choice.part = parts.getSelectedId() - 1;
    if (voices.getSelectedItemIndex() >= 0 && request.choice.part == shown->part)
        request.choice.voice =
            voices.getText().upToFirstOccurrenceOf(words::voiceNotes, false, false).toStdString();
    request.choice.highest = chords.getSelectedItemIndex() == 0;
    request.choice.unroll = repeats.getToggleState();
    request.choice.graceNotes = graces.getToggleState();
    ask();
}

void PartPlace::refresh() {
    const auto newest = reader.opened();
    if (newest == shown && filled)
        return;
    shown = newest;
    filled = true;
    const juce::ScopedValueSetter<bool> quiet(filling, true);
    fillParts();
    fillVoices();
    list.show(shown);
    const bool any = shown && !shown->problem;
    for (juce::Component* each : std::initializer_list<juce::Component*>{
             &choices, &list, &bars, &notes, &drillButton, &xmlButton, &midiButton})
        each->setVisible(any || (each == &choices && shown && shown->file));
    for (juce::Component* each : std::initializer_list<juce::Component*>{&list, &bars, &drillButton})
        each->setVisible(any && !shown->spots.empty());
    xmlButton.setEnabled(any && shown->file->musicXml() != nullptr);
    notes.show(remarks(), words::noRemarks);
    resized(); // the list is as high as it is long
    spotChosen();
    showState();
}

void PartPlace::showDrill(const PlayModel& model, const PitchNames& names) {
    ladder.setNames(names);
    ladder.show(model);
}

void PartPlace::fillParts() {
    parts.clear(juce::dontSendNotification);
    if (!shown || !shown->file)
        return;
    int id = 1;
    for (const PartInfo& info : shown->file->parts()) {
        const std::string name = info.name.empty() ? words::unnamedPart + std::to_string(id) : info.name;
        const bool several = shown->file->parts().size() > 1; // to choose among by how much they hold
        parts.addItem(toText(several ? name + words::voiceNotes + std::to_string(notesIn(info)) + ")" : name),
                      id);
        ++id;
    }
    parts.setSelectedId(shown->part + 1, juce::dontSendNotification);
}

void PartPlace::fillVoices() {
    voices.clear(juce::dontSendNotification);
    if (!shown || !shown->file || shown->part < 0 ||
        shown->part >= static_cast<int>(shown->file->parts().size()))
        return;
    const auto& infos = shown->file->parts()[static_cast<std::size_t>(shown->part)].voices;
    int id = 1;
    int fullest = 0;
    for (const PartInfo::Voice& voice : infos) {
        voices.addItem(toText(voice.name + words::voiceNotes + std::to_string(voice.notes) + ")"), id);
        const bool wanted = voice.name == shown->request.choice.voice;
        if (wanted || (shown->request.choice.voice.empty() && voice.notes > fullest))
            voices.setSelectedId(id, juce::dontSendNotification);
        fullest = std::max(fullest, voice.notes);
        ++id;
    }
    voices.setEnabled(infos.size() > 1);
}

std::vector<std::string> PartPlace::remarks() const {
    if (!shown || shown->problem)
        return {};
    std::vector<std::string> all;
    all.push_back(inWords(shown->costBasis, shown->request.player, shown->request.instrument.name));
    all.push_back(words::unmarkedBelow(leastSpotCost));
    all.insert(all.end(), shown->remarks.begin(), shown->remarks.end());
    return all;
}

void PartPlace::spotChosen() {
    bars.show(shown, list.chosen());
    drillButton.setEnabled(list.chosen() >= 0);
}

void PartPlace::drillFromSpot() {
    const int index = list.chosen();
    if (!shown || index < 0 || index >= static_cast<int>(shown->spots.size()))
        return;
    const Spot& spot = shown->spots[static_cast<std::size_t>(index)];
    const auto drill = spotDrill(shown->line, shown->marking, spot, shown->request.instrument);
    if (!drill) {
        if (onProblem)
            onProblem(drill.problem());
        return;
    }
    if (onDrill)
        onDrill(drill.value(), spotRules(spot, drill.value(), rules ? rules() : TempoRules{}));
}

void PartPlace::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.fillAll(theme.ground);
    g.setColour(theme.quiet);
    g.setFont(boldFont(grid::body));
    drawLine(g, midiHeading(), dawHeading, juce::Justification::centredLeft);
    g.setColour(theme.text);
    g.setFont(
        boldFontFitting(title(), static_cast<float>(heading.getWidth()), grid::title + 4.0F, grid::caption));
    drawLine(g, title(), heading.withHeight(34), juce::Justification::centredLeft);
}

void PartPlace::resized() {
    auto area = getLocalBounds().reduced(grid::margin, 0).withTrimmedBottom(grid::unit);
    ladder.setBounds(area.removeFromLeft(LadderView::width).withTrimmedTop(grid::unit));
    area.removeFromLeft(grid::margin);
    auto side = area.removeFromLeft(juce::jlimit(220, 300, getWidth() * 24 / 100));
    area.removeFromLeft(grid::margin);
    openButton.setBounds(side.removeFromTop(grid::control));
    side.removeFromTop(grid::gutter);
    const int formWidth = Form::widthFor(side.getWidth());
    choices.setBounds(side.removeFromTop(choices.heightFor(formWidth)).withWidth(formWidth));
    for (std::size_t i = dawButtons.size(); i-- > 0;) {
        dawButtons[i].setBounds(side.removeFromBottom(grid::control));
        side.removeFromBottom(grid::unit);
    }
    dawHeading = side.removeFromBottom(dawHeadingHeight);
    heading = area.removeFromTop(40);
    layOutCard();
    layOutMusic(area, side.withTrimmedTop(grid::gutter));
}

/// Spots, the bars of one, buttons; the remarks where there is room for them, `beside` at the left if at all.
void PartPlace::layOutMusic(juce::Rectangle<int> area, juce::Rectangle<int> beside) {
    auto row = area.removeFromBottom(grid::control);
    const int wide = juce::jmin(widestButton, (row.getWidth() - 2 * grid::unit) / 3);
    for (juce::TextButton* button : {&drillButton, &xmlButton, &midiButton}) {
        button->setBounds(row.removeFromLeft(wide));
        row.removeFromLeft(grid::unit);
    }
    area.removeFromBottom(grid::unit);
    if (area.getWidth() >= wideMusic) {
        const int high =
            juce::jmax(leastNotesHeight, juce::jmin(list.wholeHeight(), area.getHeight() * 40 / 100));
        auto top = area.removeFromTop(high);
        list.setBounds(top.removeFromLeft(juce::jmin(widestList, top.getWidth() * 62 / 100)));
        beside = top.withTrimmedLeft(grid::margin);
    } else {
        if (beside.getHeight() < leastNotesHeight) {
            beside = area.removeFromBottom(leastNotesHeight);
            area.removeFromBottom(grid::unit);
        }
        const int high = juce::jmin(list.wholeHeight(), area.getHeight() * 45 / 100);
        list.setBounds(area.removeFromTop(high));
    }
    notes.setBounds(beside);
    area.removeFromTop(grid::gutter);
    bars.setBounds(area);
}

} // namespace valveladder
