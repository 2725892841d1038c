#version 330 core
uniform vec4 tint;
uniform float half_width;   // px
uniform float dash_m;       // 0: unbroken
in vec2 v_pixel;
flat in vec2 v_from;
flat in vec2 v_to;
in float v_along;
out vec4 colour;
void main() {
  vec2 d = v_to - v_from;
  float t = dot(d, d) > 0.0 ? clamp(dot(v_pixel - v_from, d) / dot(d, d), 0.0, 1.0) : 0.0;
  float off = distance(v_pixel, v_from + t * d);
  float cover = clamp(half_width + 0.5 - off, 0.0, 1.0);
  if (dash_m > 0.0 && fract(v_along / dash_m) > 0.6) cover = 0.0;
  if (cover <= 0.0) discard;
  colour = vec4(tint.rgb, tint.a * cover);
}
