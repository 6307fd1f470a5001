//! Tables of terms, classes, listings and enrolments.

diesel::table! {
    term (id) {
        id -> Text,
        name -> Text,
        starts -> Date,
        ends -> Date,
        zone -> Text,
        created_at -> BigInt,
        version -> BigInt,
        archived_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    class (id) {
        id -> Text,
        term_id -> Text,
        studio_id -> Text,
        code -> Text,
        title -> Text,
        go_ahead -> Bool,
        shares_logs -> Bool,
        gum_limit_days -> Nullable<Integer>,
        ph_low_hundredths -> Nullable<Integer>,
        ph_high_hundredths -> Nullable<Integer>,
        copied_from -> Nullable<Text>,
        created_at -> BigInt,
        version -> BigInt,
    }
}

diesel::table! {
    meeting (id) {
        id -> Text,
        class_id -> Text,
        kind -> Text,
        person_id -> Nullable<Text>,
        weekday -> Integer,
        from_minute -> Integer,
        to_minute -> Integer,
    }
}

diesel::table! {
    listing (id) {
        id -> Text,
        class_id -> Text,
        code -> Text,
        section -> Text,
        level -> Text,
        credits_hundredths -> Integer,
        basis -> Text,
        version -> BigInt,
    }
}

diesel::table! {
    enrolment (id) {
        id -> Text,
        class_id -> Text,
        person_id -> Text,
        listing_id -> Nullable<Text>,
        role -> Text,
        state -> Text,
        since -> Date,
        incomplete_until -> Nullable<Date>,
        lapses_to -> Nullable<Text>,
        joined_at -> BigInt,
        version -> BigInt,
    }
}

diesel::table! {
    enrolment_change (id) {
        id -> Text,
        enrolment_id -> Text,
        listing_id -> Nullable<Text>,
        role -> Text,
        state -> Text,
        since -> Date,
        reason -> Text,
        by_id -> Text,
        at -> BigInt,
    }
}
