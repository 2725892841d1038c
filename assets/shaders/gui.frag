#version 330 core
uniform sampler2D page;
in vec2 v_glyph;
in vec4 v_colour;
out vec4 colour;
void main() { colour = v_colour * texture(page, v_glyph); }
