//! Tables of grading schemes, categories, assessments, scores and submitted grades.

diesel::table! {
    grading_scheme (class_id) {
        class_id -> Text,
        late_bp -> Integer,
        late_of -> Text,
        late_max_days -> Nullable<Integer>,
        grace_minutes -> Integer,
        missing_counts_zero -> Bool,
        rounding_places -> Integer,
        ties -> Text,
        scale -> Text,
        version -> BigInt,
    }
}

diesel::table! {
    category (id) {
        id -> Text,
        class_id -> Text,
        position -> Integer,
        title -> Text,
        weight_bp -> Integer,
        drop_lowest -> Integer,
        version -> BigInt,
    }
}

diesel::table! {
    assessment (id) {
        id -> Text,
        class_id -> Text,
        category_id -> Text,
        project_id -> Nullable<Text>,
        position -> Integer,
        title -> Text,
        points_hundredths -> BigInt,
        extra_credit -> Bool,
        version -> BigInt,
    }
}

diesel::table! {
    score (id) {
        id -> Text,
        class_id -> Text,
        assessment_id -> Text,
        person_id -> Text,
        print_id -> Nullable<Text>,
        root -> Text,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
        status -> Text,
        points_hundredths -> Nullable<BigInt>,
        words -> Text,
        reason -> Text,
        by_id -> Text,
        at -> BigInt,
        handed_back_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    submitted_grade (id) {
        id -> Text,
        class_id -> Text,
        person_id -> Text,
        root -> Text,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
        how -> Text,
        listing -> Text,
        basis -> Text,
        letter -> Text,
        rounded -> Nullable<Text>,
        percent -> Nullable<Text>,
        evidence -> Text,
        working -> Text,
        remains -> Text,
        open_until -> Nullable<Date>,
        lapses_to -> Nullable<Text>,
        last_day -> Nullable<Date>,
        last_deed -> Nullable<Text>,
        reason -> Text,
        by_id -> Nullable<Text>,
        at -> BigInt,
    }
}
