//! Tables of an evening in the studio: who asks for whom, and the order of the run sheet.

diesel::table! {
    asking (id) {
        id -> Text,
        class_id -> Text,
        person_id -> Text,
        kind -> Text,
        plate_id -> Nullable<Text>,
        place -> Text,
        at -> BigInt,
        until_at -> BigInt,
        answered_at -> Nullable<BigInt>,
        answered_by -> Nullable<Text>,
        taken_back_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    run_place (class_id, day, plate_id, step_key) {
        class_id -> Text,
        day -> Date,
        plate_id -> Text,
        step_key -> Text,
        position -> Integer,
    }
}
