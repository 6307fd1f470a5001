//! Tables of topics, who may witness them, and sign-offs.

diesel::table! {
    topic (id) {
        id -> Text,
        key -> Text,
        title -> Text,
        position -> Integer,
        created_at -> BigInt,
    }
}

diesel::table! {
    topic_version (id) {
        id -> Text,
        topic_id -> Text,
        number -> Integer,
        introduction -> Text,
        valid_days -> Nullable<Integer>,
        by_id -> Nullable<Text>,
        created_at -> BigInt,
    }
}

diesel::table! {
    topic_point (id) {
        id -> Text,
        topic_version_id -> Text,
        position -> Integer,
        words -> Text,
    }
}

diesel::table! {
    class_topic (class_id, topic_id) {
        class_id -> Text,
        topic_id -> Text,
    }
}

diesel::table! {
    witness (class_id, person_id, topic_id) {
        class_id -> Text,
        person_id -> Text,
        topic_id -> Text,
    }
}

diesel::table! {
    sign_off (id) {
        id -> Text,
        person_id -> Text,
        topic_id -> Text,
        topic_version_id -> Text,
        studio_id -> Text,
        class_id -> Text,
        grade -> Text,
        given_by -> Text,
        given_at -> BigInt,
        acknowledged_at -> Nullable<BigInt>,
        valid_until -> Nullable<Date>,
        note -> Text,
        taken_back_at -> Nullable<BigInt>,
        withdrawn_at -> Nullable<BigInt>,
        withdrawn_by -> Nullable<Text>,
        withdrawn_reason -> Nullable<Text>,
    }
}

diesel::table! {
    sign_off_point (sign_off_id, point_id) {
        sign_off_id -> Text,
        point_id -> Text,
    }
}
