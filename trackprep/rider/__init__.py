"""What a rider does about the answers: ask, work, look ahead, and the day itself."""
