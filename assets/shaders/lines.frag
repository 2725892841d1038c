#version 330 core
uniform vec4 tint;
uniform float half_width;        // px
uniform float dash_m;            // 0: unbroken
uniform vec4 casing;             // drawn along with the core where casing_width is above 0
uniform float casing_width;      // px, half
noperspective in vec2 v_local;   // px along the piece and beside it
flat in float v_length;          // px
in float v_along;
out vec4 colour;
void main() {
  float beyond = v_local.x - clamp(v_local.x, 0.0, v_length);
  float off = length(vec2(beyond, v_local.y));
  float cover = clamp(half_width + 0.5 - off, 0.0, 1.0);
  if (dash_m > 0.0 && fract(v_along / dash_m) > 0.6) cover = 0.0;
  // Not round the ends, where it would lie on the core of the next piece.
  float around = beyond == 0.0 ? clamp(casing_width + 0.5 - off, 0.0, 1.0) : 0.0;
  vec4 both = mix(casing, tint, cover);
  colour = vec4(both.rgb, both.a * max(cover, around));
}
