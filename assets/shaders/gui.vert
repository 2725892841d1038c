#version 330 core
// Panels and marks: places in pixels from the upper left.
uniform vec4 screen;  // x, y of the upper left; width, height
layout(location = 0) in vec2 place;
layout(location = 1) in vec2 glyph;
layout(location = 2) in vec4 colour;
out vec2 v_glyph;
out vec4 v_colour;
void main() {
  v_glyph = glyph;
  v_colour = colour;
  vec2 unit = (place - screen.xy) / screen.zw;
  gl_Position = vec4(unit.x * 2.0 - 1.0, 1.0 - unit.y * 2.0, 0.0, 1.0);
}
