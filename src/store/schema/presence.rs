//! Tables of rolls, duties and what students are granted.

diesel::table! {
    roll (id) {
        id -> Text,
        class_id -> Text,
        day -> Date,
        from_minute -> Integer,
        to_minute -> Integer,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    roll_entry (id) {
        id -> Text,
        class_id -> Text,
        roll_id -> Text,
        person_id -> Text,
        presence -> Text,
        root -> Text,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    duty (id) {
        id -> Text,
        class_id -> Text,
        person_id -> Text,
        day -> Date,
        what -> Text,
        outcome -> Text,
        root -> Text,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    accommodation (id) {
        id -> Text,
        class_id -> Text,
        person_id -> Text,
        kind -> Text,
        percent -> Nullable<Integer>,
        days -> Nullable<Integer>,
        words -> Text,
        by_id -> Text,
        at -> BigInt,
        ended_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    accommodation_reason (accommodation_id) {
        accommodation_id -> Text,
        words -> Text,
    }
}
