DROP TABLE attainment;
