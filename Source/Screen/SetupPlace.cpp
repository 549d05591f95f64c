#include "Screen/SetupPlace.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr std::array<int, 6> scales{100, 125, 150, 200, 250, 300};
constexpr int versionHeight = 28;

} // namespace

SetupPlace::SetupPlace(Parameters& parameters, bool hosted) : fields(parameters, hosted) {
    setTitle(words::setUp);
    setFocusContainerType(FocusContainerType::focusContainer);
    setOpaque(true);
    scroll.onSeen = sideScroll.onSeen = [this] { showWhole(); };
    scroll.setViewedComponent(&fields, false);
    scroll.setScrollBarsShown(true, false);
    scroll.setScrollBarThickness(12);
    scroll.setWantsKeyboardFocus(false);
    addAndMakeVisible(scroll);
    fields.onHeight = [this] { resized(); };
    undo.setButtonText(words::undo);
    redo.setButtonText(words::redo);
    undo.setTitle(words::undo);
    redo.setTitle(words::redo);
    undo.setTooltip(words::undoHelp);
    redo.setTooltip(words::redoHelp);
    undo.onClick = [this] { onUndo(); };
    redo.onClick = [this] { onRedo(); };
    addAndMakeVisible(undo);
    addAndMakeVisible(redo);
    addShelf();
    addDisplay(hosted);
    shelf.setTitle(words::keptHeading);
    display.setTitle(words::displayHeading);
    addFolds();
    sideScroll.setViewedComponent(&sideForms, false);
    sideScroll.setScrollBarsShown(true, false);
    sideScroll.setScrollBarThickness(12);
    sideScroll.setWantsKeyboardFocus(false);
    addAndMakeVisible(sideScroll);
    version.setText(toText(words::versionLine()), juce::dontSendNotification);
    version.setJustificationType(juce::Justification::centredLeft);
    version.setMinimumHorizontalScale(1.0F);
    version.setBorderSize({});
    addAndMakeVisible(version);
}

std::array<SetupPlace::Part, 2> SetupPlace::parts() {
    return {{{&display, &displayFold, words::displayHeading}, {&shelf, &shelfFold, words::keptHeading}}};
}

void SetupPlace::addFolds() {
    displayFold.setTooltip(words::displayFoldHelp);
    shelfFold.setTooltip(words::shelfFoldHelp);
    for (const Part& part : parts()) {
        part.fold->setTitle(part.heading);
        part.fold->setWantsKeyboardFocus(true);
        part.fold->onClick = [this, part] { unfold(part, !part.form->isVisible()); };
        sideForms.addAndMakeVisible(part.fold);
        sideForms.addChildComponent(part.form);
        unfold(part, false);
    }
}

void SetupPlace::unfold(const Part& part, bool wanted) {
    part.form->setVisible(wanted);
    part.fold->setButtonText(juce::String(part.heading) + (wanted ? words::unfolded : words::folded));
    resized();
}

void SetupPlace::unfoldAll(bool wanted) {
    fields.unfoldAll(wanted);
    for (const Part& part : parts())
        unfold(part, wanted);
}

void SetupPlace::showWhole() {
    fields.showWhole(scroll.getViewArea());
    const juce::Range<int> seen{sideScroll.getViewArea().getY(), sideScroll.getViewArea().getBottom()};
    for (const Part& part : parts()) {
        showIfWhole(*part.fold, seen);
        part.form->showWhole(seen - part.form->getY());
    }
}

void SetupPlace::addShelf() {
    load.setButtonText(words::keptLoad);
    keep.setButtonText(words::keep);
    toFile.setButtonText(words::toFile);
    fromFile.setButtonText(words::fromFile);
    load.onClick = [this] {
        if (kept.getSelectedItemIndex() >= 0)
            onLoad(kept.getText().toStdString());
    };
    keep.onClick = [this] { onKeep(keepName.getText().trim().toStdString()); };
    keepName.onReturnKey = [this] {
        keep.triggerClick();
        fields.leave();
    };
    keepName.onEscapeKey = [this] { fields.leave(); };
    toFile.onClick = [this] { onToFile(); };
    fromFile.onClick = [this] { onFromFile(); };
    shelf.add(words::keptField, words::keptHelp, kept);
    shelf.add(words::keptLoadSaid, words::keptLoadHelp, load);
    shelf.add(words::keepName, words::keepNameHelp, keepName);
    shelf.add(words::keepSaid, words::keepHelp, keep);
    shelf.add(words::shareSaid, words::shareHelp, toFile);
    shelf.add(words::openSaid, words::takeOverHelp, fromFile);
}

void SetupPlace::addDisplay(bool hosted) {
    theme.addItemList({words::darkTheme, words::lightTheme}, 1);
    for (const int percent : scales)
        scale.addItem(juce::String(percent) + " %", percent);
    names.addItemList(
        {words::instrumentNames, words::sharpNames, words::flatNames, words::germanNames, words::doNames}, 1);
    pitch.addItemList({words::writtenPitch, words::soundingPitch}, 1);
    motion.setButtonText(words::onWord);
    for (juce::ComboBox* box : {&theme, &scale, &names, &pitch, &keys})
        box->onChange = [this] { preferenceChanged(); };
    openResult.setButtonText(words::opensByItself);
    motion.onClick = openResult.onClick = [this] { preferenceChanged(); };
    display.add(words::themeField, words::themeHelp, theme);
    display.add(words::scaleField, words::scaleHelp, scale);
    display.add(words::motionField, words::motionHelp, motion);
    display.add(words::openResultField, words::openResultHelp, openResult);
    display.add(words::namesField, words::namesHelp, names);
    display.add(words::pitchField, words::pitchHelp, pitch);
    keys.addItemList({words::hostsKeys, words::ourKeys}, 1);
    if (hosted)
        display.add(words::keysField, words::keysHelp, keys);
}

void SetupPlace::preferenceChanged() {
    Preferences next = shown;
    next.dark = theme.getSelectedItemIndex() == 0;
    next.scalePercent = scale.getSelectedId();
    next.reducedMotion = motion.getToggleState();
    next.openResult = openResult.getToggleState();
    next.spelling.reset();
    if (const int chosen = names.getSelectedItemIndex() - 1; chosen >= 0)
        next.spelling = static_cast<Spelling>(chosen);
    next.ownTransportKeys = keys.getSelectedItemIndex() == 1;
    next.soundingNames = pitch.getSelectedItemIndex() == 1;
    if (next != shown && onPreferences)
        onPreferences(next);
}

void SetupPlace::showPreferences(const Preferences& preferences) {
    shown = preferences;
    constexpr auto silent = juce::dontSendNotification;
    theme.setSelectedItemIndex(preferences.dark ? 0 : 1, silent);
    scale.setSelectedId(preferences.scalePercent, silent);
    motion.setToggleState(preferences.reducedMotion, silent);
    openResult.setToggleState(preferences.openResult, silent);
    names.setSelectedItemIndex(preferences.spelling ? static_cast<int>(*preferences.spelling) + 1 : 0,
                               silent);
    keys.setSelectedItemIndex(preferences.ownTransportKeys ? 1 : 0, silent);
    pitch.setSelectedItemIndex(preferences.soundingNames ? 1 : 0, silent);
}

void SetupPlace::showUndo(bool canUndo, bool canRedo) {
    undo.setEnabled(canUndo);
    redo.setEnabled(canRedo);
}

void SetupPlace::showShelf(const std::vector<std::string>& shelfNames) {
    const juce::String before = kept.getText();
    kept.clear(juce::dontSendNotification);
    int id = 1;
    for (const std::string& name : shelfNames) {
        kept.addItem(toText(name), id);
        if (toText(name) == before)
            kept.setSelectedId(id, juce::dontSendNotification);
        ++id;
    }
    load.setEnabled(!shelfNames.empty());
}

void SetupPlace::paint(juce::Graphics& g) {
    g.fillAll(Look::themeOf(*this).ground);
}

void SetupPlace::resized() {
    auto area = getLocalBounds().reduced(grid::margin, 0).withTrimmedBottom(grid::unit);
    auto side = area.removeFromRight(juce::jlimit(316, 340, getWidth() * 30 / 100));
    area.removeFromRight(grid::margin);
    scroll.setBounds(area);
    const int width = area.getWidth() - scroll.getScrollBarThickness();
    fields.setSize(width, fields.heightFor(width));
    auto row = side.removeFromTop(grid::control);
    undo.setBounds(row.removeFromLeft(row.getWidth() / 2 - grid::unit / 2));
    row.removeFromLeft(grid::unit);
    redo.setBounds(row);
    side.removeFromTop(grid::unit);
    version.setBounds(side.removeFromBottom(versionHeight));
    sideScroll.setBounds(side);
    const int sideWidth = side.getWidth() - sideScroll.getScrollBarThickness();
    const int formWidth = Form::widthFor(sideWidth - grid::unit); // short of the scroll bar
    int y = 0;
    for (const Part& part : parts()) {
        const int wide = buttonWidth(*part.fold, boldFont(grid::body), 20);
        part.fold->setBounds(0, y, wide, grid::control);
        y += grid::headingLine;
        if (part.form->isVisible()) {
            part.form->setBounds(0, y, formWidth, part.form->heightFor(formWidth));
            y = part.form->getBottom();
        }
        y += grid::gutter;
    }
    sideForms.setSize(sideWidth, y);
    showWhole();
}

} // namespace valveladder
