//! Tables of proof photos and comments.

diesel::table! {
    photo (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        sha256 -> Nullable<Text>,
        width -> Integer,
        height -> Integer,
        bytes -> BigInt,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    proof (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        photo_id -> Text,
        kind -> Text,
        pulled_at -> BigInt,
        note -> Text,
        by_id -> Text,
        at -> BigInt,
        removed_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    comment (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        proof_id -> Nullable<Text>,
        words -> Text,
        by_id -> Text,
        at -> BigInt,
        removed_at -> Nullable<BigInt>,
    }
}
