#include "Screen/SidesView.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "View/Words.h"

#include <algorithm>

namespace valveladder {

SidesView::SidesView() : difference(words::differenceTitle) {
    setTitle(words::sidesView);
    const std::initializer_list<std::tuple<juce::ComboBox*, juce::Label*, const char*, const char*>> boxes{
        {&first, &firstLabel, words::firstSide, words::firstSideHelp},
        {&second, &secondLabel, words::secondSide, words::secondSideHelp},
        {&rung, &rungLabel, words::sidesRung, words::sidesRungHelp}};
    for (const auto& [box, label, text, help] : boxes) {
        box->setTooltip(help);
        label->setText(text, juce::dontSendNotification);
        label->setAccessible(false);
        box->setTitle(text);
        box->setWantsKeyboardFocus(true);
        addAndMakeVisible(*label);
        addAndMakeVisible(*box);
    }
    first.onChange = [this] { chosen(); };
    second.onChange = [this] { chosen(); };
    rung.onChange = [this] { draw(); };
    graphs.onPlay = [this](int note) {
        if (onPlay)
            onPlay(note);
    };
    strip.onPlay = [this] { graphs.playChosen(); };
    for (juce::Component* part : std::initializer_list<juce::Component*>{&graphs, &difference, &strip})
        addAndMakeVisible(part);
}

void SidesView::show(const std::vector<SideChoice>& sides) {
    if (sides == choices)
        return;
    choices = sides;
    for (juce::ComboBox* box : {&first, &second}) {
        box->clear(juce::dontSendNotification);
        for (std::size_t i = 0; i < choices.size(); ++i)
            box->addItem(toText(choices[i].label), static_cast<int>(i) + 1);
    }
    const int count = static_cast<int>(choices.size());
    if (count > 0)
        choose(count > 1 ? 1 : 0, 0);
}

void SidesView::choose(int firstIndex, int secondIndex) {
    first.setSelectedItemIndex(firstIndex, juce::dontSendNotification);
    second.setSelectedItemIndex(secondIndex, juce::dontSendNotification);
    chosen();
}

void SidesView::chooseRung(int index) {
    if (index < rung.getNumItems())
        rung.setSelectedItemIndex(index, juce::sendNotificationSync);
}

void SidesView::setNames(const PitchNames& wanted) {
    if (names == wanted)
        return;
    names = wanted;
    graphs.setNames(names);
    chosen();
}

void SidesView::showSounding(int noteIndex) {
    graphs.showSounding(noteIndex);
}

std::optional<std::pair<std::shared_ptr<const LoadedTake>, std::shared_ptr<const LoadedTake>>>
SidesView::pair() const {
    const auto oneOf = [](const LoadedTakes& takes) {
        const auto kept = std::find_if(takes.begin(), takes.end(),
                                       [](const auto& take) { return !take->record.soundFile.empty(); });
        return kept == takes.end() ? takes.front() : *kept;
    };
    const LoadedTakes a = loadedFor(choice(first));
    const LoadedTakes b = loadedFor(choice(second));
    if (a.empty() || b.empty())
        return std::nullopt;
    return std::pair{oneOf(a), oneOf(b)};
}

const SideChoice* SidesView::choice(const juce::ComboBox& box) const {
    const int index = box.getSelectedItemIndex();
    return index >= 0 && index < static_cast<int>(choices.size()) ? &choices[static_cast<std::size_t>(index)]
                                                                  : nullptr;
}

std::vector<std::string> SidesView::wanted() const {
    std::vector<std::string> ids;
    for (const SideChoice* side : {choice(first), choice(second)})
        if (side != nullptr)
            for (const std::string& id : side->takeIds)
                if (!loaded.contains(id))
                    ids.push_back(id);
    return ids;
}

void SidesView::give(const std::shared_ptr<const LoadedTake>& take, const std::string& id) {
    if (!take || loaded.contains(id))
        return;
    loaded[id] = take;
    if (wanted().empty())
        chosen();
}

LoadedTakes SidesView::loadedFor(const SideChoice* side) const {
    LoadedTakes takes;
    if (side != nullptr)
        for (const std::string& id : side->takeIds)
            if (const auto found = loaded.find(id); found != loaded.end() && !found->second->trouble)
                takes.push_back(found->second);
    return takes;
}

void SidesView::chosen() {
    const LoadedTakes a = loadedFor(choice(first));
    if (a.empty() || !wanted().empty())
        return;
    const int before = rung.getSelectedItemIndex();
    rung.clear(juce::dontSendNotification);
    int id = 1;
    for (const RungModel& each : a.front()->model.rungs)
        rung.addItem(toText(withPitchNames(each.label, names)), id++);
    rung.setSelectedItemIndex(juce::jlimit(0, rung.getNumItems() - 1, before), juce::dontSendNotification);
    draw();
}

void SidesView::draw() {
    const LoadedTakes a = loadedFor(choice(first));
    const LoadedTakes b = loadedFor(choice(second));
    if (a.empty() || b.empty())
        return;
    const TakeModel left = meanModel(a);
    const TakeModel right = meanModel(b);
    const int shown = rung.getSelectedItemIndex();
    const auto firstOfRung = std::find_if(left.notes.begin(), left.notes.end(),
                                          [shown](const NoteModel& note) { return note.rung == shown; });
    graphs.show(&left, &right, shown, -1, firstOfRung == left.notes.end() ? -1 : firstOfRung->index);
    difference.show(sideWords(a, b), words::noDifference);
    repaint();
}

/// The legend: which sign is which side.
void SidesView::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    const auto mark = [&](const juce::Label& label, bool filled) {
        const auto area =
            label.getBounds().toFloat().removeFromRight(18.0F).withSizeKeepingCentre(11.0F, 11.0F);
        g.setColour(filled ? theme.accent : theme.text);
        if (filled)
            g.fillEllipse(area);
        else
            g.drawRect(area, 1.8F);
    };
    mark(firstLabel, true);
    mark(secondLabel, false);
}

void SidesView::resized() {
    auto area = getLocalBounds();
    auto row = area.removeFromTop(grid::control);
    const int each = row.getWidth() / 3;
    const std::initializer_list<std::pair<juce::Label*, juce::ComboBox*>> fields{
        {&firstLabel, &first}, {&secondLabel, &second}, {&rungLabel, &rung}};
    for (const auto& [label, box] : fields) {
        auto part = row.removeFromLeft(each).withTrimmedRight(grid::gutter);
        label->setBounds(part.removeFromLeft(84));
        box->setBounds(part.withTrimmedLeft(6));
    }
    area.removeFromTop(grid::gutter);
    auto right = area.removeFromRight(juce::jlimit(190, 300, getWidth() * 22 / 100));
    strip.setBounds(right.removeFromBottom(PlayStrip::height));
    right.removeFromBottom(grid::unit);
    difference.setBounds(right);
    area.removeFromRight(grid::margin);
    graphs.setBounds(area);
}

} // namespace valveladder
