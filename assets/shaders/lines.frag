#version 330 core
uniform vec4 tint;
uniform float half_width;   // px
uniform float dash_m;       // 0: unbroken
noperspective in vec2 v_local;   // px along the piece and beside it
flat in float v_length;          // px
in float v_along;
out vec4 colour;
void main() {
  float off = length(vec2(v_local.x - clamp(v_local.x, 0.0, v_length), v_local.y));
  float cover = clamp(half_width + 0.5 - off, 0.0, 1.0);
  if (dash_m > 0.0 && fract(v_along / dash_m) > 0.6) cover = 0.0;
  colour = vec4(tint.rgb, tint.a * cover);
}
