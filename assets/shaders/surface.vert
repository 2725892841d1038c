#version 330 core
// The wall's surface. `place` is where it is drawn: in the building (3D) or in the chart (flat).
uniform mat4 clip_from_place;
uniform bool flat_view;
uniform vec3 eye;              // 3D: in the same local frame as `place`
uniform mat3x2 picture_from_chart;
layout(location = 0) in vec3 place;
layout(location = 1) in vec3 facing;   // unit, toward the painter
layout(location = 2) in vec2 chart;    // m
out vec2 v_chart;
out vec2 v_picture;
out vec3 v_facing;
out vec3 v_to_eye;
void main() {
  v_chart = chart;
  v_picture = picture_from_chart * vec3(chart, 1.0);
  v_facing = facing;
  v_to_eye = eye - place;
  gl_Position = flat_view ? clip_from_place * vec4(chart, 0.0, 1.0) : clip_from_place * vec4(place, 1.0);
}
