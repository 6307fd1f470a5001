//! Tables of the school, its people, their sessions and one-time links.

diesel::table! {
    school (id) {
        id -> Text,
        name -> Text,
        safety_office -> Text,
        second_factor -> Bool,
        demo -> Bool,
        created_at -> BigInt,
        version -> BigInt,
        pass_letter -> Text,
        no_pass_letter -> Text,
        audit_letter -> Text,
        incomplete_letter -> Text,
        pass_from_bp -> Integer,
    }
}

diesel::table! {
    person (id) {
        id -> Text,
        given_name -> Text,
        family_name -> Text,
        email -> Nullable<Text>,
        email_key -> Nullable<Text>,
        student_number -> Nullable<Text>,
        password_hash -> Nullable<Text>,
        activated_at -> Nullable<BigInt>,
        keeper -> Bool,
        records -> Bool,
        safety_officer -> Bool,
        volume_unit -> Text,
        daily_letter -> Bool,
        urgent_letter -> Bool,
        week_letter -> Bool,
        letter_hour -> Integer,
        language -> Nullable<Text>,
        failed_sign_ins -> Integer,
        failed_at -> Nullable<BigInt>,
        created_at -> BigInt,
        version -> BigInt,
        handed_back_letter -> Bool,
        due_moved_letter -> Bool,
        mail_refusals -> Integer,
        mail_rests_since -> Nullable<BigInt>,
        mail_refused_with -> Nullable<Text>,
        second_look_asked_letter -> Bool,
        second_look_answered_letter -> Bool,
        grade_submitted_letter -> Bool,
    }
}

diesel::table! {
    session (id) {
        id -> Text,
        token_hash -> Text,
        person_id -> Text,
        agent -> Text,
        created_at -> BigInt,
        seen_at -> BigInt,
        idle_ms -> BigInt,
        ends_at -> BigInt,
        confirmed_at -> BigInt,
        ended_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    link (id) {
        id -> Text,
        purpose -> Text,
        person_id -> Nullable<Text>,
        secret_hash -> Text,
        bound -> Text,
        created_at -> BigInt,
        expires_at -> BigInt,
        used_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    calendar_feed (id) {
        id -> Text,
        person_id -> Text,
        secret_hash -> Text,
        created_at -> BigInt,
        withdrawn_at -> Nullable<BigInt>,
    }
}
