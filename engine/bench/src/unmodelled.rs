//! What of the catalogue the unit does not have yet.

/// The ids of readings, deeds and endings that the model knows nothing of: it makes no sound, its speed is never lowered
/// to spare the ducts, and its board has no delay to be set. A technician cannot tell such a reading, and such a deed
/// is not possible.
pub const UNMODELLED: [&str; 32] = [
    "bearing_feel",
    "blower_stopped",
    "burner-noise",
    "cabinet_leak",
    "call_steadiness",
    "fasten-panels",
    "fasten-transformer",
    "lower-speed",
    "lower_speed_tried",
    "motor_belly",
    "mount_condition",
    "noise_heard",
    "noise_place",
    "noise_without_blower",
    "outdoor-unit-noise",
    "pipe_frost",
    "put-speed-back",
    "rattle_stops",
    "renew-mount",
    "replace-motor-bearing",
    "replace-motor-hunts",
    "replace-wheel",
    "rise_kept",
    "rush_without_filter",
    "seal-cabinet-leak",
    "set-blower-delay",
    "sound-of-the-ducts",
    "stays-off-until-seen",
    "stiffen-duct",
    "tighten-mount",
    "transformer_fixing",
    "wheel_true",
];
