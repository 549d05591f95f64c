#include "Screen/Look.h"

#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

/// Controls are capsules; what is higher than one keeps this.
constexpr float largestCorner = 22.0F;
constexpr float widestTip = 420.0F;
constexpr float tipInset = 12.0F;

const juce::Identifier tabProperty("tab");
const juce::Identifier leadProperty("lead");

float cornerOf(juce::Rectangle<float> area) {
    return juce::jmin(largestCorner, area.getHeight() / 2);
}

/// A tick, drawn, since the letters hold none.
void drawTick(juce::Graphics& g, juce::Rectangle<float> area, juce::Colour colour) {
    juce::Path tick;
    tick.startNewSubPath(area.getX() + area.getWidth() * 0.2F, area.getY() + area.getHeight() * 0.52F);
    tick.lineTo(area.getX() + area.getWidth() * 0.42F, area.getY() + area.getHeight() * 0.74F);
    tick.lineTo(area.getX() + area.getWidth() * 0.8F, area.getY() + area.getHeight() * 0.28F);
    g.setColour(colour);
    g.strokePath(tick, juce::PathStrokeType(area.getWidth() * 0.13F, juce::PathStrokeType::mitered,
                                            juce::PathStrokeType::rounded));
}

} // namespace

Look::Look(const Theme& theme) : used(&theme) {
    setColours();
}

void Look::setTheme(const Theme& theme) {
    used = &theme;
    setColours();
}

const Theme& Look::themeOf(const juce::Component& component) {
    if (const auto* look = dynamic_cast<const Look*>(&component.getLookAndFeel()))
        return look->theme();
    return Theme::dark();
}

void Look::makeTab(juce::Button& button) {
    button.getProperties().set(tabProperty, true);
}

void Look::makeLead(juce::Label& label) {
    label.getProperties().set(leadProperty, true);
}

void Look::drawFocus(juce::Graphics& g, juce::Rectangle<float> area, const Theme& theme) {
    g.setColour(theme.text);
    g.drawRoundedRectangle(area.reduced(1.0F), cornerOf(area) - 1.0F, 2.0F);
    g.setColour(theme.ground); // so that it is seen on what is filled as well
    g.drawRoundedRectangle(area.reduced(2.5F), cornerOf(area) - 2.5F, 1.0F);
}

void Look::setColours() {
    const Theme& t = *used;
    const std::initializer_list<std::pair<int, juce::Colour>> wanted{
        {juce::ResizableWindow::backgroundColourId, t.ground},
        {juce::TextEditor::backgroundColourId, t.raised},
        {juce::TextEditor::textColourId, t.text},
        {juce::TextEditor::highlightColourId, t.accent.withAlpha(0.35F)},
        {juce::TextEditor::highlightedTextColourId, t.text},
        {juce::CaretComponent::caretColourId, t.accent},
        {juce::ComboBox::backgroundColourId, t.raised},
        {juce::ComboBox::textColourId, t.text},
        {juce::ComboBox::arrowColourId, t.quiet},
        {juce::TextButton::buttonColourId, t.raised},
        {juce::TextButton::buttonOnColourId, t.accent},
        {juce::TextButton::textColourOffId, t.text},
        {juce::TextButton::textColourOnId, t.onAccent},
        {juce::ToggleButton::textColourId, t.text},
        {juce::Label::textColourId, t.text},
        {juce::Slider::textBoxTextColourId, t.text},
        {juce::Slider::textBoxBackgroundColourId, juce::Colours::transparentBlack},
        {juce::Slider::textBoxOutlineColourId, juce::Colours::transparentBlack},
        {juce::ListBox::backgroundColourId, t.panel},
        {juce::ListBox::textColourId, t.text},
        {juce::PopupMenu::backgroundColourId, t.raised},
        {juce::PopupMenu::textColourId, t.text},
        {juce::PopupMenu::highlightedBackgroundColourId, t.accent},
        {juce::PopupMenu::highlightedTextColourId, t.onAccent},
        {juce::ScrollBar::thumbColourId, t.quiet},
        {juce::AlertWindow::backgroundColourId, t.panel},
        {juce::AlertWindow::textColourId, t.text},
        {juce::AlertWindow::outlineColourId, t.line},
        {juce::DirectoryContentsDisplayComponent::textColourId, t.text},
        {juce::DirectoryContentsDisplayComponent::highlightColourId, t.accent}};
    for (const auto& [id, colour] : wanted)
        setColour(id, colour);
}

juce::Typeface::Ptr Look::getTypefaceForFont(const juce::Font& font) {
    if (font.getTypefaceName() == juce::Font::getDefaultSansSerifFontName())
        return (font.isBold() ? boldFont(font.getHeight()) : plainFont(font.getHeight())).getTypefacePtr();
    return LookAndFeel_V4::getTypefaceForFont(font);
}

void Look::drawButtonBackground(juce::Graphics& g, juce::Button& button, const juce::Colour&,
                                bool highlighted, bool down) {
    const auto area = button.getLocalBounds().toFloat().reduced(0.5F);
    if (button.getProperties().contains(tabProperty)) {
        drawTab(g, button, highlighted || down);
        return;
    }
    juce::Colour fill = button.getToggleState() ? used->accent : used->raised;
    if (down || highlighted)
        fill = fill.interpolatedWith(used->text, down ? 0.18F : 0.08F);
    g.setColour(button.isEnabled() ? fill : used->panel);
    g.fillRoundedRectangle(area, cornerOf(area));
    if (!button.isEnabled()) {
        g.setColour(used->line);
        g.drawRoundedRectangle(area, cornerOf(area), 1.0F);
    }
    if (button.hasKeyboardFocus(true))
        drawFocus(g, area, *used);
}

void Look::drawTab(juce::Graphics& g, const juce::Button& button, bool touched) const {
    const auto area = button.getLocalBounds().toFloat();
    if (button.getToggleState() || touched) {
        g.setColour(button.getToggleState() ? used->accent : used->line);
        g.fillRoundedRectangle(area.withTop(area.getBottom() - 4.0F).reduced(10.0F, 0.0F), 2.0F);
    }
    if (button.hasKeyboardFocus(true))
        drawFocus(g, area.reduced(0.5F), *used);
}

void Look::drawButtonText(juce::Graphics& g, juce::TextButton& button, bool, bool) {
    const bool on = button.getToggleState();
    const bool tab = button.getProperties().contains(tabProperty);
    const juce::Colour there = tab ? (on ? used->text : used->quiet) : on ? used->onAccent : used->text;
    g.setColour(button.isEnabled() ? there : used->quiet);
    const bool large = button.getHeight() > 2 * grid::control;
    g.setFont(large ? boldFont(grid::figure) : on ? boldFont(grid::body) : plainFont(grid::body));
    drawLine(g, button.getButtonText(), button.getLocalBounds().reduced(4, 2), juce::Justification::centred);
}

void Look::drawToggleButton(juce::Graphics& g, juce::ToggleButton& button, bool highlighted, bool) {
    const auto area = button.getLocalBounds().toFloat();
    const float size = 18.0F;
    const juce::Rectangle<float> box(4.0F, area.getCentreY() - size / 2, size, size);
    const bool on = button.getToggleState();
    g.setColour(on ? used->accent : highlighted ? used->line : used->raised);
    g.fillRoundedRectangle(box, 4.0F);
    g.setColour(on ? used->accent : used->quiet);
    g.drawRoundedRectangle(box.reduced(0.5F), 4.0F, 1.0F);
    if (on)
        drawTick(g, box, used->onAccent);
    g.setColour(used->text);
    g.setFont(plainFont(grid::body));
    drawLine(g, button.getButtonText(), area.withTrimmedLeft(size + 12.0F), juce::Justification::centredLeft);
    if (button.hasKeyboardFocus(true))
        drawFocus(g, area, *used);
}

void Look::drawComboBox(juce::Graphics& g, int width, int height, bool, int, int, int, int,
                        juce::ComboBox& box) {
    const juce::Rectangle<float> area(0.5F, 0.5F, static_cast<float>(width) - 1.0F,
                                      static_cast<float>(height) - 1.0F);
    g.setColour(box.isEnabled() ? used->raised : used->panel);
    g.fillRoundedRectangle(area, cornerOf(area));
    const float x = area.getRight() - 20.0F;
    juce::Path arrow;
    arrow.startNewSubPath(x - 4.0F, area.getCentreY() - 2.0F);
    arrow.lineTo(x, area.getCentreY() + 2.5F);
    arrow.lineTo(x + 4.0F, area.getCentreY() - 2.0F);
    g.setColour(used->quiet);
    g.strokePath(arrow, juce::PathStrokeType(1.6F));
    if (box.hasKeyboardFocus(true))
        drawFocus(g, area, *used);
}

void Look::positionComboBoxText(juce::ComboBox& box, juce::Label& label) {
    label.setBounds(10, 1, box.getWidth() - 38, box.getHeight() - 2);
    label.setFont(getComboBoxFont(box));
    label.setMinimumHorizontalScale(1.0F);
    label.setBorderSize({0, 2, 0, 2});
    label.setColour(juce::Label::textColourId, box.isEnabled() ? used->text : used->quiet);
}

/// Where the label stands, as what is chosen does: JUCE's own draws it at the left edge of the box.
void Look::drawComboBoxTextWhenNothingSelected(juce::Graphics& g, juce::ComboBox& box, juce::Label& label) {
    g.setColour(used->quiet);
    g.setFont(getComboBoxFont(box));
    const auto area = label.getBorderSize().subtractedFrom(label.getBounds()).toFloat();
    drawLine(g, box.getTextWhenNothingSelected(), area, juce::Justification::centredLeft);
}

juce::Font Look::getComboBoxFont(juce::ComboBox&) {
    return plainFont(grid::body);
}

/// What is chosen in a box may take two lines of smaller letters; so does what stands beside controls where
/// it is longer than its room.
juce::Font Look::getLabelFont(juce::Label& label) {
    if (label.getProperties().contains(leadProperty))
        return boldFont(grid::lead);
    const auto body = plainFont(grid::body);
    const bool inBox = dynamic_cast<const juce::ComboBox*>(label.getParentComponent()) != nullptr;
    const auto room = label.getBorderSize().subtractedFrom(label.getLocalBounds());
    const auto width = static_cast<float>(room.getWidth());
    const auto lines = static_cast<float>(wrapped(label.getText(), body, width).size());
    const bool tooLong =
        inBox ? textWidth(body, label.getText()) > width
              : lines > 1.0F && lines * body.getHeight() > static_cast<float>(room.getHeight());
    return plainFont(tooLong ? grid::caption : grid::body);
}

/// A number is a capsule like the buttons beside it.
void Look::drawLabel(juce::Graphics& g, juce::Label& label) {
    if (dynamic_cast<const juce::Slider*>(label.getParentComponent()) != nullptr) {
        const auto area = label.getLocalBounds().toFloat().reduced(0.5F);
        g.setColour(used->raised);
        g.fillRoundedRectangle(area, cornerOf(area));
    }
    if (label.isBeingEdited())
        return;
    const juce::Font font = getLabelFont(label);
    const auto area = label.getBorderSize().subtractedFrom(label.getLocalBounds());
    const int lines = static_cast<int>(static_cast<float>(area.getHeight()) / font.getHeight());
    g.setFont(font);
    g.setColour(
        label.findColour(juce::Label::textColourId).withMultipliedAlpha(label.isEnabled() ? 1.0F : 0.5F));
    g.drawFittedText(withSigns(label.getText()), area, label.getJustificationType(), juce::jmax(1, lines),
                     label.getMinimumHorizontalScale());
}

juce::Font Look::getPopupMenuFont() {
    return plainFont(grid::body);
}

void Look::getIdealPopupMenuItemSize(const juce::String& text, bool separator, int height, int& idealWidth,
                                     int& idealHeight) {
    LookAndFeel_V4::getIdealPopupMenuItemSize(withSigns(text), separator, height, idealWidth, idealHeight);
}

void Look::drawPopupMenuItem(juce::Graphics& g, const juce::Rectangle<int>& area, bool separator, bool active,
                             bool highlighted, bool ticked, bool hasSubMenu, const juce::String& text,
                             const juce::String& shortcut, const juce::Drawable* icon,
                             const juce::Colour* textColour) {
    LookAndFeel_V4::drawPopupMenuItem(g, area, separator, active, highlighted, ticked, hasSubMenu,
                                      withSigns(text), shortcut, icon, textColour);
}

/// Beside the pointer, towards the middle of the window.
juce::Rectangle<int> Look::getTooltipBounds(const juce::String& text, juce::Point<int> pointer,
                                            juce::Rectangle<int> within) {
    const auto font = plainFont(grid::caption);
    const float room = juce::jmin(widestTip, static_cast<float>(within.getWidth()) - 2 * tipInset);
    float wide = 0.0F;
    for (const juce::String& line : wrapped(text, font, room))
        wide = juce::jmax(wide, textWidth(font, line));
    const int width = static_cast<int>(std::ceil(wide + 2 * tipInset));
    const int height = static_cast<int>(std::ceil(heightOf(text, font, room) + tipInset));
    const juce::Point<int> corner(pointer.x > within.getCentreX() ? pointer.x - width - 12 : pointer.x + 24,
                                  pointer.y > within.getCentreY() ? pointer.y - height - 6 : pointer.y + 6);
    return juce::Rectangle<int>(width, height).withPosition(corner).constrainedWithin(within);
}

void Look::drawTooltip(juce::Graphics& g, const juce::String& text, int width, int height) {
    const juce::Rectangle<float> area(static_cast<float>(width), static_cast<float>(height));
    g.setColour(used->raised);
    g.fillRoundedRectangle(area, tipInset / 2);
    g.setColour(used->line);
    g.drawRoundedRectangle(area.reduced(0.5F), tipInset / 2, 1.0F);
    g.setColour(used->text);
    drawWrapped(g, text, plainFont(grid::caption), area.reduced(tipInset, tipInset / 2).expanded(1.0F, 0.0F));
}

juce::Font Look::getTextButtonFont(juce::TextButton&, int) {
    return plainFont(grid::body);
}

void Look::fillTextEditorBackground(juce::Graphics& g, int width, int height, juce::TextEditor& editor) {
    g.setColour(editor.findColour(juce::TextEditor::backgroundColourId));
    const juce::Rectangle<float> area(static_cast<float>(width), static_cast<float>(height));
    g.fillRoundedRectangle(area, cornerOf(area));
}

void Look::drawTextEditorOutline(juce::Graphics& g, int width, int height, juce::TextEditor& editor) {
    if (editor.hasKeyboardFocus(true))
        drawFocus(g, {0.0F, 0.0F, static_cast<float>(width), static_cast<float>(height)}, *used);
}

juce::Button* Look::createSliderButton(juce::Slider&, bool increment) {
    return new juce::TextButton(increment ? "+" : juce::String::fromUTF8("\xe2\x88\x92"),
                                increment ? words::increase : words::decrease);
}

} // namespace valveladder
